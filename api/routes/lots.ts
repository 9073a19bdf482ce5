import { createRoute, z } from '@hono/zod-openapi';
import { answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { enterScreening } from '../enter-screening.ts';
import * as schemas from '../schemas/lot.ts';
import { newScreenMetallics } from '../schemas/screen-metallics.ts';
import { deleteLotSampling, putLotSampling } from '../../db/queries/lot-sampling.ts';
import * as lots from '../../db/queries/lots.ts';

const tags = ['Lots'];
const assayParams = idParam.extend({ assayId: z.uuid() });

export const lotRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        tags,
        summary: 'Lots, oldest first, each with its dry mass, what was taken and what is left',
        request: { query: z.object({ seasonId: z.uuid().optional() }) },
        responses: answers(z.array(schemas.lot), 'The lots'),
      }),
      async (c) => c.json(await lots.listLots(db, c.req.valid('query').seasonId), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        tags,
        summary: 'Enter a lot',
        request: { body: jsonBody(schemas.newLot) },
        responses: created(schemas.lot, 'The lot'),
      }),
      async (c) => c.json(await lots.insertLot(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        tags,
        summary: 'One lot',
        request: { params: idParam },
        responses: answers(schemas.lot, 'The lot'),
      }),
      async (c) => c.json(await lots.findLot(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
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
        path: '/{id}/lab-assays',
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
        method: 'delete',
        path: '/{id}/lab-assays/{assayId}',
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
