import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { addDays } from '../calc/calendar.ts';
import { Problem } from '../problem.ts';
import { element, isoDate } from '../schemas/fields.ts';
import * as schemas from '../schemas/supply.ts';
import * as quotations from '../../db/queries/quotations.ts';
import * as supplies from '../../db/queries/supplies.ts';

export const supplyRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags: ['Supplies'],
        summary: 'Reagents, lead, fuel, crucibles, wages, each with its dated prices',
        responses: answers(z.array(schemas.supply), 'The supplies'),
      }),
      async (c) => c.json(await supplies.listSupplies(db), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags: ['Supplies'],
        summary: 'Enter a supply',
        request: { body: jsonBody(schemas.newSupply) },
        responses: created(schemas.supply, 'The supply'),
      }),
      async (c) => c.json(await supplies.insertSupply(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow(),
        tags: ['Supplies'],
        summary: 'Change a supply',
        request: { params: idParam, body: jsonBody(schemas.supplyChange) },
        responses: answers(schemas.supply, 'The supply as changed'),
      }),
      async (c) => c.json(await supplies.updateSupply(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow(),
        tags: ['Supplies'],
        summary: 'Remove a supply that nothing names',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await supplies.deleteSupply(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{id}/prices',
        ...allow(),
        tags: ['Supplies'],
        summary: 'Enter a dated price; the price of the same day is corrected',
        request: { params: idParam, body: jsonBody(schemas.newSupplyPrice) },
        responses: created(schemas.supply, 'The supply with its prices'),
      }),
      async (c) =>
        c.json(await supplies.putSupplyPrice(db, c.req.valid('param').id, c.req.valid('json')), 201),
    );

const quotationKey = schemas.quotation.pick({ metal: true, currency: true, unit: true, quotedOn: true });

export const quotationRoutes = ({ db, now }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags: ['Quotations'],
        summary: 'Daily metal quotations, newest first',
        request: {
          query: z.object({
            metal: element.optional(),
            from: isoDate.optional(),
            to: isoDate.optional(),
            limit: z.coerce.number().int().min(1).max(5000).default(400),
          }),
        },
        responses: answers(z.array(schemas.quotation), 'The quotations'),
      }),
      async (c) => {
        const { limit, ...filter } = c.req.valid('query');
        return c.json(await quotations.listQuotations(db, filter, limit), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/latest',
        ...allow('operator', 'accountant'),
        tags: ['Quotations'],
        summary: 'The last quotation of each metal on or before a day',
        request: { query: z.object({ on: isoDate.optional() }) },
        responses: answers(z.array(schemas.quotation), 'The quotations'),
      }),
      async (c) => {
        const on = c.req.valid('query').on ?? now().toISOString().slice(0, 10);
        return c.json(await quotations.latestQuotations(db, on), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/',
        ...allow(),
        tags: ['Quotations'],
        summary: 'Enter a quotation; that of the same metal, currency, unit and day is corrected',
        request: { body: jsonBody(schemas.quotation) },
        responses: answers(schemas.quotation, 'The quotation'),
      }),
      async (c) => {
        const quotation = c.req.valid('json');
        const today = now().toISOString().slice(0, 10);
        // A day of grace: it may be tomorrow already where the mill is.
        if (quotation.quotedOn > addDays(today, 1))
          throw new Problem('validation', 'A quotation cannot be of a day to come.', {
            errors: [
              { pointer: '/quotedOn', detail: `Quoted on ${quotation.quotedOn} lies after today, ${today}.` },
            ],
          });
        return c.json(await quotations.putQuotation(db, quotation), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/',
        ...allow(),
        tags: ['Quotations'],
        summary: 'Remove a quotation',
        request: { query: quotationKey },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await quotations.deleteQuotation(db, c.req.valid('query'));
        return c.body(null, 204);
      },
    );
