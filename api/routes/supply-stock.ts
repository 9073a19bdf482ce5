import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { listAnswers, paging, rowsOf } from './list.ts';
import { requireNotToCome } from './not-to-come.ts';
import { isoDate } from '../schemas/fields.ts';
import * as schemas from '../schemas/supply-stock.ts';
import { stockOverview, supplyStock } from '../work-supply-stock.ts';
import * as counts from '../../db/queries/supply-counts.ts';
import * as purchases from '../../db/queries/supply-purchases.ts';

const tags = ['Stock of supplies'];

const { limit, after } = paging(100);
const movementsQuery = z.object({
  supplyId: z.uuid().optional(),
  from: isoDate.optional(),
  to: isoDate.optional(),
  limit,
  after,
});

export const supplyStockRoutes = ({ db, now }: Deps) => {
  const today = () => now().toISOString().slice(0, 10);
  const onDay = z.object({ on: isoDate.optional() });
  return subApp()
    .openapi(
      createRoute({
        method: 'get',
        ...allow('operator', 'accountant'),
        path: '/',
        tags,
        summary: 'What is in stock at its moving average, how long it lasts, what planned batches will lack',
        request: { query: onDay },
        responses: answers(schemas.stockOverview, 'The stock'),
      }),
      async (c) => c.json(await stockOverview(db, c.req.valid('query').on ?? today()), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        ...allow('operator', 'accountant'),
        path: '/{id}',
        tags,
        summary:
          'The stock of one supply as a ledger: every movement with running quantity, value and average',
        request: { params: idParam, query: onDay },
        responses: answers(schemas.supplyStock, 'The ledger'),
      }),
      async (c) =>
        c.json(await supplyStock(db, c.req.valid('param').id, c.req.valid('query').on ?? today()), 200),
    );
};

export const supplyPurchaseRoutes = ({ db, now }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        ...allow('operator', 'accountant'),
        path: '/',
        tags,
        summary: 'Purchases of supplies, newest first',
        request: { query: movementsQuery },
        responses: listAnswers(schemas.supplyPurchase, 'The purchases'),
      }),
      async (c) => {
        const query = c.req.valid('query');
        return c.json(rowsOf(c, await purchases.pageOfSupplyPurchases(db, query, query)), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        ...allow('operator'),
        path: '/',
        tags,
        summary: 'Enter a purchase of a supply',
        request: { body: jsonBody(schemas.newSupplyPurchase) },
        responses: created(schemas.supplyPurchase, 'The purchase'),
      }),
      async (c) => {
        const fields = c.req.valid('json');
        requireNotToCome(now(), '/boughtOn', fields.boughtOn, 'A purchase');
        return c.json(await purchases.insertSupplyPurchase(db, fields), 201);
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        ...allow('operator'),
        path: '/{id}',
        tags,
        summary: 'Change a purchase',
        request: { params: idParam, body: jsonBody(schemas.supplyPurchaseChange) },
        responses: answers(schemas.supplyPurchase, 'The purchase as changed'),
      }),
      async (c) => {
        const fields = c.req.valid('json');
        requireNotToCome(now(), '/boughtOn', fields.boughtOn, 'A purchase');
        return c.json(await purchases.updateSupplyPurchase(db, c.req.valid('param').id, fields), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        ...allow('operator'),
        path: '/{id}',
        tags,
        summary: 'Remove a purchase',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await purchases.deleteSupplyPurchase(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    );

export const supplyCountRoutes = ({ db, now }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        ...allow('operator', 'accountant'),
        path: '/',
        tags,
        summary: 'Counts of supplies, newest first',
        request: { query: movementsQuery },
        responses: listAnswers(schemas.supplyCount, 'The counts'),
      }),
      async (c) => {
        const query = c.req.valid('query');
        return c.json(rowsOf(c, await counts.pageOfSupplyCounts(db, query, query)), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        ...allow('operator'),
        path: '/',
        tags,
        summary: 'Enter what was counted of a supply at the end of a day; one count a day',
        request: { body: jsonBody(schemas.newSupplyCount) },
        responses: created(schemas.supplyCount, 'The count'),
      }),
      async (c) => {
        const fields = c.req.valid('json');
        requireNotToCome(now(), '/countedOn', fields.countedOn, 'A count');
        return c.json(await counts.insertSupplyCount(db, fields), 201);
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        ...allow('operator'),
        path: '/{id}',
        tags,
        summary: 'Change a count',
        request: { params: idParam, body: jsonBody(schemas.supplyCountChange) },
        responses: answers(schemas.supplyCount, 'The count as changed'),
      }),
      async (c) => {
        const fields = c.req.valid('json');
        requireNotToCome(now(), '/countedOn', fields.countedOn, 'A count');
        return c.json(await counts.updateSupplyCount(db, c.req.valid('param').id, fields), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        ...allow('operator'),
        path: '/{id}',
        tags,
        summary: 'Remove a count',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await counts.deleteSupplyCount(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    );
