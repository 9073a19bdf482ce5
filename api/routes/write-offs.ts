import { createRoute, z } from '@hono/zod-openapi';
import { allow, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { listAnswers, pageAsked, paging, rowsOf } from './list.ts';
import { isoDate } from '../schemas/fields.ts';
import * as schemas from '../schemas/write-off.ts';
import * as writeOffs from '../../db/queries/write-offs.ts';

const tags = ['Write-offs'];

export const writeOffRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'What was written off, by the day',
        request: {
          query: z.object({
            productId: z.uuid().optional(),
            from: isoDate.optional(),
            to: isoDate.optional(),
            ...paging(100, 200),
          }),
        },
        responses: listAnswers(schemas.writeOff, 'The write-offs'),
      }),
      async (c) => {
        const query = c.req.valid('query');
        return c.json(rowsOf(c, await writeOffs.pageOfWriteOffs(db, query, pageAsked(query))), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow('operator'),
        tags,
        summary: 'Write off a lot or a product, or a part of it, with the reason',
        request: { body: jsonBody(schemas.newWriteOff) },
        responses: created(schemas.writeOff, 'The write-off'),
      }),
      async (c) => c.json(await writeOffs.insertWriteOff(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow('operator'),
        tags,
        summary: 'Take a write-off back',
        request: { params: idParam },
        responses: nothing('Taken back'),
      }),
      async (c) => {
        await writeOffs.deleteWriteOff(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    );
