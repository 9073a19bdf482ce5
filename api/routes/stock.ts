import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, subApp, type Deps } from './describe.ts';
import { paging } from './list.ts';
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
          /** Without what lots are worked out to hold: for those who only ask what is there. */
          metal: z.enum(['true', 'false']).optional(),
          /** Products that were made of one season’s lots. */
          seasonId: z.uuid().optional(),
          limit: paging(100).limit,
          afterLot: paging(100).after,
          afterProduct: paging(100).after,
        }),
      },
      responses: answers(stock, 'Lots with anything left, and products, the newest first'),
    }),
    async (c) => {
      const { all, metal, ...query } = c.req.valid('query');
      return c.json(await stockOf(db, { ...query, all: all === 'true', metal: metal !== 'false' }), 200);
    },
  );
