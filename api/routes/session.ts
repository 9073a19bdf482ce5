import { createRoute, z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { allow, answers, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { actorIfAny, actorOf, type Actor } from '../accounts/actor.ts';
import { changePassword, choosePassword } from '../accounts/new-password.ts';
import { closedChanges } from '../accounts/grants.ts';
import { createPasswords } from '../accounts/passwords.ts';
import { confirmCodes, offerCodes, stopCodes } from '../accounts/second-factor.ts';
import { clientAddress, dropSessionCookie, putSessionCookie } from '../accounts/session-cookie.ts';
import { signIn } from '../accounts/sign-in.ts';
import { Problem } from '../problem.ts';
import * as schemas from '../schemas/account.ts';
import { ownerCanSignIn } from '../../db/queries/accounts.ts';
import { recoveryCodesLeft } from '../../db/queries/accounts-codes.ts';
import { NotFound } from '../../db/queries/changed.ts';
import {
  endOtherSessions,
  endSession,
  listSessions,
  SESSION_DAYS,
} from '../../db/queries/accounts-sessions.ts';

const tags = ['Session'];
const everybody = allow('operator', 'accountant', 'customer');

/** The account of whoever asks; on the owner's own machine without accounts there is none. */
function accountOf(c: Context): Actor & { accountId: string } {
  const actor = actorOf(c);
  const { accountId } = actor;
  if (accountId === null)
    throw new Problem('conflict', 'There are no accounts yet: nobody has to sign in on this machine.');
  return { ...actor, accountId };
}

export const sessionRoutes = (plainDeps: Deps) => {
  const deps = { ...plainDeps, passwords: plainDeps.passwords ?? createPasswords() };
  const { db, now } = deps;

  const told = async (c: Context, actor: Actor | undefined): Promise<schemas.Session> => ({
    actor:
      actor === undefined
        ? null
        : { accountId: actor.accountId, name: actor.name, role: actor.role, hasCodes: actor.hasCodes },
    closed:
      actor === undefined
        ? []
        : closedChanges(c.get('grants') as ReadonlyMap<string, readonly string[]>, actor.role),
    accountsInUse: deps.signInAlways === true || (await ownerCanSignIn(db)),
  });

  return subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('anyone'),
        tags,
        summary: 'Who is signed in',
        responses: answers(schemas.session, 'Who it is, or nobody'),
      }),
      async (c) => c.json(await told(c, actorIfAny(c)), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow('anyone'),
        tags,
        summary: 'Sign in; the session is kept in a cookie',
        request: { body: jsonBody(schemas.signIn) },
        responses: answers(schemas.session, 'Who it is'),
      }),
      async (c) => {
        const visitor = { address: clientAddress(c), device: c.req.header('user-agent') ?? '' };
        const { token, account, sessionId } = await signIn(deps, c.req.valid('json'), visitor);
        const earlier = actorIfAny(c);
        if (earlier?.accountId != null && earlier.sessionId !== null)
          await endSession(db, earlier.accountId, earlier.sessionId);
        putSessionCookie(c, token, SESSION_DAYS * 86_400);
        const { id, name, role, counterpartyId } = account;
        const hasCodes = account.codeSecret !== null;
        return c.json(await told(c, { accountId: id, name, role, counterpartyId, sessionId, hasCodes }), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/',
        ...allow('anyone'),
        tags,
        summary: 'Sign out',
        responses: nothing('Signed out'),
      }),
      async (c) => {
        const actor = actorIfAny(c);
        if (actor?.accountId != null && actor.sessionId !== null)
          await endSession(db, actor.accountId, actor.sessionId);
        dropSessionCookie(c);
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/set-up',
        ...allow('anyone'),
        tags,
        summary: 'Choose the password of an account under the link that the owner gave',
        request: { body: jsonBody(schemas.setUp) },
        responses: answers(z.object({ name: z.string() }), 'The name to sign in with'),
      }),
      async (c) => c.json({ name: await choosePassword(deps, c.req.valid('json')) }, 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/password',
        ...everybody,
        tags,
        summary: 'Change one’s own password; other sessions of the account end',
        request: { body: jsonBody(schemas.passwordChange) },
        responses: nothing('Changed'),
      }),
      async (c) => {
        await changePassword(deps, { ...accountOf(c), address: clientAddress(c) }, c.req.valid('json'));
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/sessions',
        ...everybody,
        tags,
        summary: 'Where one’s own account is signed in',
        responses: answers(z.array(schemas.accountSession), 'The sessions, newest first'),
      }),
      async (c) => {
        const { accountId, sessionId } = accountOf(c);
        const sessions = await listSessions(db, accountId, now());
        return c.json(
          sessions.map((one) => ({ ...one, isThisOne: one.id === sessionId })),
          200,
        );
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/sessions',
        ...everybody,
        tags,
        summary: 'Sign one’s own account out everywhere else',
        responses: nothing('Signed out'),
      }),
      async (c) => {
        const { accountId, sessionId } = accountOf(c);
        await endOtherSessions(db, accountId, sessionId);
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/sessions/{id}',
        ...everybody,
        tags,
        summary: 'Sign one’s own account out at one place',
        request: { params: idParam },
        responses: nothing('Signed out'),
      }),
      async (c) => {
        if (!(await endSession(db, accountOf(c).accountId, c.req.valid('param').id)))
          throw new NotFound('session');
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/codes',
        ...everybody,
        tags,
        summary: 'Whether one’s own account asks for a code, and how many recovery codes are left',
        responses: answers(z.object({ inUse: z.boolean(), recoveryCodesLeft: z.int() }), 'How it stands'),
      }),
      async (c) => {
        const { accountId, hasCodes } = accountOf(c);
        return c.json({ inUse: hasCodes, recoveryCodesLeft: await recoveryCodesLeft(db, accountId) }, 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/codes',
        ...everybody,
        tags,
        summary: 'Begin with codes from a telephone (RFC 6238): shows the secret',
        request: { body: jsonBody(schemas.confirmPassword) },
        responses: answers(
          z.object({ secret: z.string(), link: z.string() }),
          'The secret for the telephone',
        ),
      }),
      async (c) => {
        const { accountId } = accountOf(c);
        const { password } = c.req.valid('json');
        return c.json(await offerCodes(deps, { accountId, password, address: clientAddress(c) }), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/codes',
        ...everybody,
        tags,
        summary: 'Confirm the first code; from then on a code is asked for',
        request: { body: jsonBody(schemas.confirmCode) },
        responses: answers(
          z.object({ recoveryCodes: z.array(z.string()) }),
          'The recovery codes, shown this once',
        ),
      }),
      async (c) => {
        const recoveryCodes = await confirmCodes(deps, accountOf(c).accountId, c.req.valid('json').code);
        return c.json({ recoveryCodes }, 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/codes/stop',
        ...everybody,
        tags,
        summary: 'Stop asking for codes',
        request: { body: jsonBody(schemas.confirmPassword) },
        responses: nothing('Stopped'),
      }),
      async (c) => {
        const { accountId } = accountOf(c);
        const { password } = c.req.valid('json');
        await stopCodes(deps, { accountId, password, address: clientAddress(c) });
        return c.body(null, 204);
      },
    );
};
