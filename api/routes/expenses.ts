import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { listAnswers, pageAsked, paging, rowsOf } from './list.ts';
import { requireNotToCome } from './not-to-come.ts';
import { currency, isoDate } from '../schemas/fields.ts';
import * as schemas from '../schemas/expense.ts';
import { findMill } from '../../db/queries/mill.ts';
import { Problem } from '../problem.ts';
import * as expenses from '../../db/queries/expenses.ts';
import * as rates from '../../db/queries/exchange-rates.ts';

export const expenseRoutes = ({ db, now }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        ...allow('accountant'),
        path: '/',
        tags: ['Expenses'],
        summary: 'Expenses that belong to no batch, by the day they were spent',
        request: {
          query: z.object({ from: isoDate.optional(), to: isoDate.optional(), ...paging(200) }),
        },
        responses: listAnswers(schemas.expense, 'The expenses'),
      }),
      async (c) => {
        const query = c.req.valid('query');
        return c.json(rowsOf(c, await expenses.pageOfExpenses(db, query, pageAsked(query))), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        ...allow(),
        path: '/',
        tags: ['Expenses'],
        summary: 'Enter an expense',
        request: { body: jsonBody(schemas.newExpense) },
        responses: created(schemas.expense, 'The expense'),
      }),
      async (c) => {
        const fields = c.req.valid('json');
        requireNotToCome(now(), '/spentOn', fields.spentOn, 'An expense');
        return c.json(await expenses.insertExpense(db, fields), 201);
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        ...allow(),
        path: '/{id}',
        tags: ['Expenses'],
        summary: 'Change an expense',
        request: { params: idParam, body: jsonBody(schemas.expenseChange) },
        responses: answers(schemas.expense, 'The expense as changed'),
      }),
      async (c) => {
        const fields = c.req.valid('json');
        requireNotToCome(now(), '/spentOn', fields.spentOn, 'An expense');
        return c.json(await expenses.updateExpense(db, c.req.valid('param').id, fields), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        ...allow(),
        path: '/{id}',
        tags: ['Expenses'],
        summary: 'Remove an expense',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await expenses.deleteExpense(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    );

const rateKey = schemas.exchangeRate.pick({ currency: true, ratedOn: true });

export const exchangeRateRoutes = ({ db, now }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        ...allow('operator', 'accountant'),
        path: '/',
        tags: ['Exchange rates'],
        summary: 'Exchange rates, newest first: of the mill’s currency for one of another',
        request: {
          query: z.object({
            currency: currency.optional(),
            from: isoDate.optional(),
            to: isoDate.optional(),
            limit: z.coerce.number().int().min(1).max(5000).default(400),
          }),
        },
        responses: answers(z.array(schemas.exchangeRate), 'The rates'),
      }),
      async (c) => {
        const { limit, ...filter } = c.req.valid('query');
        return c.json(await rates.listExchangeRates(db, filter, limit), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        ...allow(),
        path: '/',
        tags: ['Exchange rates'],
        summary: 'Enter an exchange rate; that of the same currency and day is corrected',
        request: { body: jsonBody(schemas.exchangeRate) },
        responses: answers(schemas.exchangeRate, 'The rate'),
      }),
      async (c) => {
        const rate = c.req.valid('json');
        requireNotToCome(now(), '/ratedOn', rate.ratedOn, 'An exchange rate');
        const mill = await findMill(db);
        if (rate.currency === mill.currency)
          throw new Problem('validation', 'The mill’s own currency has no exchange rate.', {
            errors: [
              {
                pointer: '/currency',
                detail: `Currency ${rate.currency} is the mill’s own: one of it is always one.`,
              },
            ],
          });
        return c.json(await rates.putExchangeRate(db, rate), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        ...allow(),
        path: '/',
        tags: ['Exchange rates'],
        summary: 'Remove an exchange rate',
        request: { query: rateKey },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await rates.deleteExchangeRate(db, c.req.valid('query'));
        return c.body(null, 204);
      },
    );
