import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import * as schemas from '../schemas/balance.ts';
import * as balances from '../../db/queries/balances.ts';

const tags = ['Balances'];

export const balanceRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'The balances that weigh samples and beads, each with its checks',
        responses: answers(z.array(schemas.listedBalance), 'The balances'),
      }),
      async (c) => {
        const counts = await balances.testSmeltsByBalance(db);
        const listed = await balances.listBalances(db);
        return c.json(
          listed.map((one) => ({ ...one, testSmelts: counts.get(one.id) ?? 0 })),
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
        summary: 'Enter a balance',
        request: { body: jsonBody(schemas.newBalance) },
        responses: created(schemas.balance, 'The balance'),
      }),
      async (c) => c.json(await balances.insertBalance(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow('operator'),
        tags,
        summary: 'Change a balance',
        request: { params: idParam, body: jsonBody(schemas.balanceChange) },
        responses: answers(schemas.balance, 'The balance as changed'),
      }),
      async (c) =>
        c.json(await balances.updateBalance(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{id}/checks',
        ...allow('operator'),
        tags,
        summary: 'Enter a check: one thing weighed again and again, or check weights',
        request: { params: idParam, body: jsonBody(schemas.newBalanceCheck) },
        responses: created(schemas.balance, 'The balance with its checks'),
      }),
      async (c) =>
        c.json(await balances.insertBalanceCheck(db, c.req.valid('param').id, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}/checks/{checkId}',
        ...allow('operator'),
        tags,
        summary: 'Remove a check that was entered by mistake',
        request: { params: idParam.extend({ checkId: z.uuid() }) },
        responses: nothing('Removed'),
      }),
      async (c) => {
        const { id, checkId } = c.req.valid('param');
        await balances.deleteBalanceCheck(db, id, checkId);
        return c.body(null, 204);
      },
    );
