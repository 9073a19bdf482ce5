import { createRoute, z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { allow, answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { idList, listAnswers, pageAsked, paging, rowsOf, sought } from './list.ts';
import { ownRecordsOf } from '../accounts/actor.ts';
import { enterScreening } from '../enter-screening.ts';
import * as schemas from '../schemas/lot.ts';
import { newLotPart } from '../schemas/lot-part.ts';
import { newScreenMetallics } from '../schemas/screen-metallics.ts';
import { putLotOwner } from '../../db/queries/accounts-own-records.ts';
import { NotFound } from '../../db/queries/changed.ts';
import { deleteLotSampling, putLotSampling } from '../../db/queries/lot-sampling.ts';
import { deletePart } from '../../db/queries/lot-parts.ts';
import * as lots from '../../db/queries/lots.ts';

const tags = ['Lots'];
const partParams = idParam.extend({ partId: z.uuid() });
const assayParams = idParam.extend({ assayId: z.uuid() });

/** A customer sees of a lot what is theirs: not the mill's own remarks, and nothing of other lots. */
function shownTo(c: Context, lot: schemas.Lot): schemas.Lot {
  if (ownRecordsOf(c) === undefined) return lot;
  return { ...lot, remarks: '', parts: [], takenByLots: [], writeOffs: [], purchase: null };
}

export const lotRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant', 'customer:own-list'),
        tags,
        summary: 'Lots by the day they were made, each with its dry mass, what was taken and what is left',
        request: {
          query: z.object({
            ids: idList,
            seasonId: z.uuid().optional(),
            sought: sought.openapi({ description: 'Part of the code or of the description.' }),
            left: z.enum(['true']).optional().openapi({ description: 'Only lots with something left.' }),
            tested: z.enum(['true']).optional().openapi({ description: 'Only lots with test smelts.' }),
            ...paging(100, 200),
          }),
        },
        responses: listAnswers(schemas.lot, 'The lots'),
      }),
      async (c) => {
        const { left, tested, ...query } = c.req.valid('query');
        const filter = {
          ...query,
          left: left === 'true',
          tested: tested === 'true',
          ownedBy: ownRecordsOf(c),
        };
        const found = rowsOf(c, await lots.pageOfLots(db, filter, pageAsked(query)));
        return c.json(
          found.map((lot) => shownTo(c, lot)),
          200,
        );
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow('operator'),
        tags,
        summary: 'Enter a lot, with the days, lots and products that it was made from',
        request: { body: jsonBody(schemas.newLotOfParts) },
        responses: created(schemas.lot, 'The lot'),
      }),
      async (c) => c.json(await lots.insertLot(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant', 'customer:own-lot'),
        tags,
        summary: 'One lot',
        request: { params: idParam },
        responses: answers(schemas.lot, 'The lot'),
      }),
      async (c) => c.json(shownTo(c, await lots.findLot(db, c.req.valid('param').id)), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow('operator'),
        tags,
        summary: 'Change a lot',
        request: { params: idParam, body: jsonBody(schemas.lotChange) },
        responses: answers(schemas.lot, 'The lot as changed'),
      }),
      async (c) => c.json(await lots.updateLot(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow('operator'),
        tags,
        summary: 'Remove a lot that nothing hangs on',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await lots.deleteLot(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{id}/parts',
        ...allow('operator'),
        tags,
        summary: 'Say what a lot was made from: a mass taken out of a day, another lot or a product',
        request: { params: idParam, body: jsonBody(newLotPart) },
        responses: created(schemas.lot, 'The lot'),
      }),
      async (c) => c.json(await lots.addPartToLot(db, c.req.valid('param').id, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}/parts/{partId}',
        ...allow('operator'),
        tags,
        summary: 'Give a part back to where it came from',
        request: { params: partParams },
        responses: nothing('Removed'),
      }),
      async (c) => {
        const { id, partId } = c.req.valid('param');
        await deletePart(db, id, partId);
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}/purchase',
        ...allow('operator'),
        tags,
        summary: 'Say what a lot of other people’s making was bought for',
        request: { params: idParam, body: jsonBody(schemas.lotPurchase) },
        responses: answers(schemas.lot, 'The lot'),
      }),
      async (c) => c.json(await lots.putLotPurchase(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}/purchase',
        ...allow('operator'),
        tags,
        summary: 'Forget that a lot was bought',
        request: { params: idParam },
        responses: answers(schemas.lot, 'The lot'),
      }),
      async (c) => c.json(await lots.putLotPurchase(db, c.req.valid('param').id, null), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{id}/lab-assays',
        ...allow('operator'),
        tags,
        summary: 'Enter a laboratory assay of a lot',
        request: { params: idParam, body: jsonBody(schemas.newLabAssay) },
        responses: created(schemas.labAssay, 'The assay'),
      }),
      async (c) => c.json(await lots.insertLabAssay(db, c.req.valid('param').id, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{id}/screen-metallics',
        ...allow('operator'),
        tags,
        summary: 'Enter an assay with the coarse metal screened out; it is worked up and kept as a lab assay',
        request: { params: idParam, body: jsonBody(newScreenMetallics) },
        responses: created(schemas.labAssay, 'The assay with its working'),
      }),
      async (c) => c.json(await enterScreening(db, c.req.valid('param').id, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}/sampling',
        ...allow('operator'),
        tags,
        summary: 'Say how the gold sits in a lot, for the error of taking a sample',
        request: { params: idParam, body: jsonBody(schemas.lotSampling) },
        responses: answers(schemas.lot, 'The lot'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        await putLotSampling(db, id, c.req.valid('json'));
        return c.json(await lots.findLot(db, id), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}/sampling',
        ...allow('operator'),
        tags,
        summary: 'Forget how the gold sits in a lot',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await deleteLotSampling(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}/owner',
        ...allow(),
        tags,
        summary: 'Say whose lot it is, for a mill that works up what belongs to others',
        request: { params: idParam, body: jsonBody(schemas.lotOwner) },
        responses: answers(schemas.lot, 'The lot'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        if (!(await putLotOwner(db, id, c.req.valid('json').counterpartyId))) throw new NotFound('lot');
        return c.json(await lots.findLot(db, id), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}/lab-assays/{assayId}',
        ...allow('operator'),
        tags,
        summary: 'Remove a laboratory assay',
        request: { params: assayParams },
        responses: nothing('Removed'),
      }),
      async (c) => {
        const { id, assayId } = c.req.valid('param');
        await lots.deleteLabAssay(db, id, assayId);
        return c.body(null, 204);
      },
    );
