import { createRoute } from '@hono/zod-openapi';
import { allow, answers, subApp, type Deps } from './describe.ts';
import * as schemas from '../schemas/audit.ts';
import { listChanges } from '../../db/queries/audit.ts';

export const auditRoutes = ({ db }: Deps) =>
  subApp().openapi(
    createRoute({
      method: 'get',
      path: '/',
      tags: ['Audit'],
      summary: 'Who changed what, when, from what to what; newest first, by record, person and day',
      ...allow('accountant'),
      request: { query: schemas.auditQuery },
      responses: answers(schemas.changeList, 'The changes'),
    }),
    async (c) => c.json(await listChanges(db, c.req.valid('query')), 200),
  );
