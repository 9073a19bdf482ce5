import { createRoute, z } from '@hono/zod-openapi';
import { answers, subApp, type Deps } from './describe.ts';
import { isoDate } from '../schemas/fields.ts';
import { decisionFactsSchema } from './facts-schema.ts';
import { decisionFacts } from '../../db/queries/facts.ts';

export const decisionRoutes = ({ db, now }: Deps) =>
  subApp().openapi(
    createRoute({
      method: 'get',
      path: '/facts',
      tags: ['Decisions'],
      summary: 'Everything that a decision about a lot is worked from, as the books stood on a day',
      request: { query: z.object({ lotId: z.uuid(), on: isoDate.optional() }) },
      responses: answers(decisionFactsSchema, 'The facts; the page works the decision out from them'),
    }),
    async (c) => {
      const { lotId, on } = c.req.valid('query');
      return c.json(await decisionFacts(db, lotId, on ?? now().toISOString().slice(0, 10)), 200);
    },
  );
