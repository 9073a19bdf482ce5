import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { listAnswers, pageAsked, paging, rowsOf } from './list.ts';
import { isoDate } from '../schemas/fields.ts';
import * as schemas from '../schemas/production-day.ts';
import * as days from '../../db/queries/production-days.ts';

const tags = ['Daily log'];

export const productionDayRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'Days of the daily log, each with its dry feed and concentrate',
        request: {
          query: z.object({
            seasonId: z.uuid().optional(),
            from: isoDate.optional(),
            to: isoDate.optional(),
            ...paging(100),
          }),
        },
        responses: listAnswers(schemas.productionDay, 'The days'),
      }),
      async (c) => {
        const query = c.req.valid('query');
        return c.json(rowsOf(c, await days.pageOfDays(db, query, pageAsked(query))), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/with-concentrate',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'Days with concentrate that no lot was made from yet',
        request: { query: z.object(paging(100)) },
        responses: listAnswers(schemas.productionDay, 'The days'),
      }),
      async (c) =>
        c.json(rowsOf(c, await days.daysWithConcentrate(db, pageAsked(c.req.valid('query')))), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow('operator'),
        tags,
        summary: 'Enter a day; one entry a day',
        request: { body: jsonBody(schemas.newProductionDay) },
        responses: created(schemas.productionDay, 'The day'),
      }),
      async (c) => c.json(await days.insertProductionDay(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'One day',
        request: { params: idParam },
        responses: answers(schemas.productionDay, 'The day'),
      }),
      async (c) => c.json(await days.findProductionDay(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow('operator'),
        tags,
        summary: 'Change a day',
        request: { params: idParam, body: jsonBody(schemas.productionDayChange) },
        responses: answers(schemas.productionDay, 'The day as changed'),
      }),
      async (c) =>
        c.json(await days.updateProductionDay(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow('operator'),
        tags,
        summary: 'Remove a day that no lot was made from',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await days.deleteProductionDay(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    );
