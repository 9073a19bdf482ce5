import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, idParam, jsonBody, subApp, type Deps } from './describe.ts';
import * as accounts from '../schemas/account-code.ts';
import * as schemas from '../schemas/budget.ts';
import { withCapacity } from '../work-budget.ts';
import * as codes from '../../db/queries/account-codes.ts';
import * as budgets from '../../db/queries/budgets.ts';

export const budgetRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        ...allow('accountant'),
        path: '/{id}',
        tags: ['Budget'],
        summary:
          'What was planned for a season by month, and the furnace hours there are against those taken',
        request: { params: idParam },
        responses: answers(schemas.budget, 'The budget of the season with this id'),
      }),
      async (c) => c.json(await withCapacity(db, await budgets.findBudget(db, c.req.valid('param').id)), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        ...allow(),
        path: '/{id}',
        tags: ['Budget'],
        summary: 'Set the budget of a season',
        request: { params: idParam, body: jsonBody(schemas.budgetChange) },
        responses: answers(schemas.budget, 'The budget as set'),
      }),
      async (c) => {
        const kept = await budgets.putBudget(db, c.req.valid('param').id, c.req.valid('json'));
        return c.json(await withCapacity(db, kept), 200);
      },
    );

export const accountCodeRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        ...allow('accountant'),
        path: '/',
        tags: ['Account codes'],
        summary: 'Every kind of account of the journal with its code: the owner’s, or the one suggested',
        responses: answers(z.array(accounts.accountCode), 'The codes'),
      }),
      async (c) => c.json(await codes.listAccountCodes(db), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        ...allow(),
        path: '/',
        tags: ['Account codes'],
        summary: 'Set codes and names; several kinds may share one code',
        request: { body: jsonBody(accounts.accountCodesChange) },
        responses: answers(z.array(accounts.accountCode), 'All codes'),
      }),
      async (c) => c.json(await codes.putAccountCodes(db, c.req.valid('json')), 200),
    );
