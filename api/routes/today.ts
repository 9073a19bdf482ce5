import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, subApp, type Deps } from './describe.ts';
import { isoDate } from '../schemas/fields.ts';
import { today } from '../schemas/today.ts';
import { todaysWork } from '../../db/queries/todays-work.ts';

export const todayRoutes = ({ db, now }: Deps) =>
  subApp().openapi(
    createRoute({
      method: 'get',
      path: '/',
      ...allow('operator', 'accountant'),
      tags: ['Today'],
      summary: 'Where the season stands, and the first of all that waits for somebody to do something',
      request: { query: z.object({ on: isoDate.optional() }) },
      responses: answers(today, 'The standing and the work'),
    }),
    async (c) =>
      c.json(await todaysWork(db, c.req.valid('query').on ?? now().toISOString().slice(0, 10)), 200),
  );
