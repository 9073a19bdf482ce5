import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { makeSetupLink } from '../accounts/new-password.ts';
import { Problem } from '../problem.ts';
import * as schemas from '../schemas/account.ts';
import {
  accountById,
  findAccount,
  insertAccount,
  listAccounts,
  ownerCanSignIn,
  updateAccount,
} from '../../db/queries/accounts.ts';
import { endOtherSessions, endSession, listSessions } from '../../db/queries/accounts-sessions.ts';
import { NotFound } from '../../db/queries/changed.ts';

const tags = ['Accounts'];

export const accountRoutes = (deps: Deps) => {
  const { db, now } = deps;
  return subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow(),
        tags,
        summary: 'Who may come in',
        responses: answers(z.array(schemas.account), 'The accounts by name'),
      }),
      async (c) => c.json(await listAccounts(db, now()), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags,
        summary: 'Make an account; its password is chosen under the link that comes back',
        request: { body: jsonBody(schemas.newAccount) },
        responses: created(schemas.accountWithLink, 'The account and the link, which is shown this once'),
      }),
      async (c) => {
        const fields = c.req.valid('json');
        if (fields.role !== 'owner' && !(await ownerCanSignIn(db)))
          throw new Problem('validation', 'Make your own account first.', {
            errors: [
              {
                pointer: '/role',
                detail:
                  'Role must be owner for the first account, whose password has to be chosen before there are others.',
              },
            ],
          });
        const id = await insertAccount(db, fields, now());
        const link = await makeSetupLink(deps, id);
        return c.json({ account: await findAccount(db, id, now()), ...link }, 201);
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow(),
        tags,
        summary: 'Change an account, or close it',
        request: { params: idParam, body: jsonBody(schemas.accountChange) },
        responses: answers(schemas.account, 'The account as changed'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        await updateAccount(db, id, c.req.valid('json'));
        return c.json(await findAccount(db, id, now()), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{id}/set-up-link',
        ...allow(),
        tags,
        summary:
          'Let an account begin anew: a link under which a password is chosen; codes are asked for no more',
        request: { params: idParam },
        responses: created(schemas.accountWithLink, 'The link, which is shown this once'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        await accountById(db, id);
        const link = await makeSetupLink(deps, id);
        return c.json({ account: await findAccount(db, id, now()), ...link }, 201);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/sessions',
        ...allow(),
        tags,
        summary: 'Where an account is signed in',
        request: { params: idParam },
        responses: answers(z.array(schemas.accountSession), 'The sessions, newest first'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        await accountById(db, id);
        const sessions = await listSessions(db, id, now());
        return c.json(
          sessions.map((one) => ({ ...one, isThisOne: false })),
          200,
        );
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}/sessions/{sessionId}',
        ...allow(),
        tags,
        summary: 'Sign an account out at one place',
        request: { params: idParam.extend({ sessionId: z.uuid() }) },
        responses: nothing('Signed out'),
      }),
      async (c) => {
        const { id, sessionId } = c.req.valid('param');
        if (!(await endSession(db, id, sessionId))) throw new NotFound('session');
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}/sessions',
        ...allow(),
        tags,
        summary: 'Sign an account out everywhere',
        request: { params: idParam },
        responses: nothing('Signed out'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        await accountById(db, id);
        await endOtherSessions(db, id, null);
        return c.body(null, 204);
      },
    );
};
