import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, file, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { listAnswers, pageAsked, paging, rowsOf, sought } from './list.ts';
import { asOneWrite } from '../audit/writes.ts';
import { reportSchema } from './report-schema.ts';
import { chargeSheetDocument } from '../charge-sheet-document.ts';
import { freezeForecast } from '../freeze-forecast.ts';
import { pdfResponse } from '../pdf-response.ts';
import * as schemas from '../schemas/batch.ts';
import * as plans from '../../db/queries/batch-plans.ts';
import * as batches from '../../db/queries/batches.ts';
import * as products from '../../db/queries/products.ts';

export const batchRoutes = (deps: Deps) => {
  const { db, now } = deps;
  const today = () => now().toISOString().slice(0, 10);
  return subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags: ['Batches'],
        summary: 'Batches in the order they were planned, forecast beside actual',
        request: {
          query: z.object({
            lotId: z.uuid().optional(),
            productId: z.uuid().optional(),
            seasonId: z.uuid().optional(),
            status: z.enum(['planned', 'running', 'done', 'cancelled']).optional(),
            sought: sought.openapi({
              description: 'Part of the code of the batch, of its lot or of one of its products.',
            }),
            toSettle: z.enum(['made', 'open']).optional().openapi({
              description:
                'made: batches with bars or parcels; open: with some that no final statement was issued for.',
            }),
            ...paging(50, 100),
          }),
        },
        responses: listAnswers(schemas.batch, 'The batches'),
      }),
      async (c) => {
        const { status, ...query } = c.req.valid('query');
        const filter = { ...query, statuses: status && [status] };
        return c.json(rowsOf(c, await batches.pageOfBatches(db, filter, pageAsked(query))), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow('operator'),
        tags: ['Batches'],
        summary: 'Plan a batch: takes the mass out of the lot and freezes the forecast with its inputs',
        request: { body: jsonBody(schemas.newBatch) },
        responses: created(schemas.batch, 'The batch'),
      }),
      async (c) => {
        const { assumptions, ...planned } = c.req.valid('json');
        return asOneWrite(c, db, {
          work: () => freezeForecast(db, planned, assumptions),
          write: async (forecast) => c.json(await plans.insertBatch(db, planned, forecast), 201),
        });
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant'),
        tags: ['Batches'],
        summary: 'One batch',
        request: { params: idParam },
        responses: answers(schemas.batch, 'The batch'),
      }),
      async (c) => c.json(await batches.findBatch(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/forecast',
        ...allow('operator', 'accountant'),
        tags: ['Batches'],
        summary: 'The frozen forecast with everything it was worked from, to repeat it',
        request: { params: idParam },
        responses: answers(
          z.object({ shown: schemas.batch.shape.forecast, workedFrom: z.record(z.string(), z.unknown()) }),
          'The forecast',
        ),
      }),
      async (c) => {
        const { shown, workedFrom } = await plans.findForecast(db, c.req.valid('param').id);
        return c.json({ shown, workedFrom: workedFrom as Record<string, unknown> }, 200);
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow('operator'),
        tags: ['Batches'],
        summary: 'Enter what came of a batch',
        request: { params: idParam, body: jsonBody(schemas.batchChange) },
        responses: answers(schemas.batch, 'The batch as changed'),
      }),
      async (c) => c.json(await plans.updateBatch(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}/plan',
        ...allow('operator'),
        tags: ['Batches'],
        summary: 'Plan a batch anew that has not been begun; the earlier forecast stays as superseded',
        request: { params: idParam, body: jsonBody(schemas.batchPlan) },
        responses: answers(schemas.batch, 'The batch as planned now'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        const { assumptions, ...plan } = c.req.valid('json');
        const { lotId } = await batches.findBatch(db, id);
        const forecast = await freezeForecast(
          db,
          { ...plan, lotId },
          assumptions ?? (await plans.assumptionsOf(db, id)),
        );
        return c.json(await plans.replanBatch(db, id, plan, forecast), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{id}/products',
        ...allow('operator'),
        tags: ['Products'],
        summary: 'Enter a bar, parcel, matte, slag or lead that a batch gave',
        request: { params: idParam, body: jsonBody(schemas.newProduct) },
        responses: created(schemas.product, 'The product'),
      }),
      async (c) =>
        c.json(await products.insertProduct(db, c.req.valid('param').id, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/charge-sheet',
        ...allow('operator', 'accountant'),
        tags: ['Batches'],
        summary: 'The charge sheet of a batch as the page shows it, by the treatment as it stands today',
        request: { params: idParam },
        responses: answers(reportSchema, 'The report'),
      }),
      async (c) => c.json(await chargeSheetDocument(db, c.req.valid('param').id, today()), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/charge-sheet.pdf',
        ...allow('operator', 'accountant'),
        tags: ['Batches'],
        summary: 'The charge sheet to print, with a blank weighing sheet',
        request: { params: idParam },
        responses: file('application/pdf', 'The PDF'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        const report = await chargeSheetDocument(db, id, today());
        const { code } = await batches.findBatch(db, id);
        return pdfResponse(deps, report, `charge-sheet-${code}`);
      },
    );
};

export const productRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant'),
        tags: ['Products'],
        summary: 'One product',
        request: { params: idParam },
        responses: answers(schemas.product, 'The product'),
      }),
      async (c) => c.json(await products.findProduct(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow('operator'),
        tags: ['Products'],
        summary: 'Change a product',
        request: { params: idParam, body: jsonBody(schemas.productChange) },
        responses: answers(schemas.product, 'The product as changed'),
      }),
      async (c) =>
        c.json(await products.updateProduct(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow('operator'),
        tags: ['Products'],
        summary: 'Remove a product that no statement names',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await products.deleteProduct(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    );
