import { createRoute, z } from '@hono/zod-openapi';
import {
  allow,
  answers,
  created,
  file,
  idParam,
  jsonBody,
  nothing,
  requestIdOf,
  subApp,
  type Deps,
} from './describe.ts';
import { actorOf } from '../accounts/actor.ts';
import { downloads } from '../accounts/downloads.ts';
import { newToken, tokenHash } from '../accounts/tokens.ts';
import { Problem } from '../problem.ts';
import * as schemas from '../schemas/account.ts';
import {
  insertDownloadLink,
  listDownloadLinks,
  revokeDownloadLink,
  useDownloadLink,
} from '../../db/queries/accounts-links.ts';

const tags = ['Download links'];

export const downloadLinkRoutes = ({ db, now }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow(),
        tags,
        summary: 'Links under which one file can be fetched without an account, newest first',
        responses: answers(z.array(schemas.downloadLink), 'The links, without the address that opens them'),
      }),
      async (c) => c.json(await listDownloadLinks(db), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags,
        summary: 'Make a link for the accountant',
        request: { body: jsonBody(schemas.newDownloadLink) },
        responses: created(schemas.downloadLinkMade, 'The link with its path, which is shown this once'),
      }),
      async (c) => {
        const { days, ...fields } = c.req.valid('json');
        const token = newToken();
        const link = await insertDownloadLink(db, {
          ...fields,
          tokenHash: tokenHash(token),
          madeBy: actorOf(c).name,
          now: now(),
          expiresAt: new Date(now().getTime() + days * 86_400_000),
        });
        return c.json({ link, path: `/api/downloads/${token}` }, 201);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow(),
        tags,
        summary: 'Take a link out of use at once',
        request: { params: idParam },
        responses: nothing('From now on nothing comes of it'),
      }),
      async (c) => {
        await revokeDownloadLink(db, c.req.valid('param').id, now());
        return c.body(null, 204);
      },
    );

export const downloadRoutes = (deps: Deps) =>
  subApp().openapi(
    createRoute({
      method: 'get',
      path: '/{token}',
      ...allow('anyone'),
      tags,
      summary: 'The file that a link leads to, as it is today',
      request: { params: z.object({ token: z.string().max(100) }) },
      responses: file('application/octet-stream', 'The file, of its own kind'),
    }),
    async (c) => {
      const link = await useDownloadLink(deps.db, tokenHash(c.req.valid('param').token), deps.now());
      const what = schemas.downloadKind.safeParse(link?.what);
      if (link === undefined || !what.success)
        throw new Problem('not-found', 'This link does not hold any more. Ask the mill for a new one.');
      return downloads[what.data](deps, link.seasonId, requestIdOf(c));
    },
  );
