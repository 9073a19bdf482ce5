import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, subApp, type Deps } from './describe.ts';
import * as schemas from '../schemas/lineage.ts';
import { findLineage } from '../../db/queries/lineage.ts';

export const lineageRoutes = ({ db }: Deps) =>
  subApp().openapi(
    createRoute({
      method: 'get',
      path: '/',
      ...allow('operator', 'accountant'),
      tags: ['Lineage'],
      summary: 'What a day, lot, batch, product, shipment or statement was made from and what came of it',
      request: { query: z.object({ of: schemas.lineageOf }) },
      responses: answers(schemas.lineage, 'The nodes, oldest first, and what went from one to another'),
    }),
    async (c) => c.json(await findLineage(db, c.req.valid('query').of), 200),
  );
