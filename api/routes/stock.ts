import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, subApp, type Deps } from './describe.ts';
import { stockOf } from '../production-stock.ts';
import { stock } from '../schemas/stock.ts';

export const stockRoutes = ({ db }: Deps) =>
  subApp().openapi(
    createRoute({
      method: 'get',
      path: '/',
      ...allow('operator', 'accountant'),
      tags: ['Stock'],
      summary: 'Lots and products: what is where, since when, and what it holds',
      request: {
        query: z.object({
          /** With products that are settled or used up. */
          all: z.enum(['true', 'false']).optional(),
        }),
      },
      responses: answers(stock, 'Lots with anything left, and products'),
    }),
    async (c) => c.json(await stockOf(db, c.req.valid('query').all === 'true'), 200),
  );
