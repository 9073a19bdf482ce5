import { createReadStream, existsSync, statSync } from 'node:fs';
import { Readable } from 'node:stream';
import { createRoute } from '@hono/zod-openapi';
import { allow, answers, created, file, subApp, type Deps } from './describe.ts';
import type { KeptBackup } from '../backups/backup-directory.ts';
import { Problem } from '../problem.ts';
import * as schemas from '../schemas/backup.ts';
import { NotFound } from '../../db/queries/changed.ts';

const tags = ['Backups'];

const OVERDUE_MS = 3 * 86_400_000;

export const backupRoutes = ({ backups, now }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow(),
        tags,
        summary: 'The backups that are kept, and whether the last try went wrong',
        responses: answers(schemas.backupStatus, 'The backups, the latest first'),
      }),
      (c) => {
        const failure = backups?.lastFailure() ?? null;
        const kept = backups?.kept() ?? [];
        const [last] = kept;
        return c.json(
          {
            directory: backups?.directory ?? null,
            backups: kept.map(shown),
            isOverdue: last !== undefined && now().getTime() - last.madeAt.getTime() > OVERDUE_MS,
            lastFailure: failure === null ? null : { at: failure.at.toISOString(), reason: failure.reason },
          },
          200,
        );
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags,
        summary: 'Back up all of the books to one file now',
        responses: created(schemas.backup, 'The backup'),
      }),
      async (c) => {
        if (backups === undefined)
          throw new Problem(
            'conflict',
            'This Poursheet keeps no backups: it was started with --backups off, or on a database server without --backups. Start it with --backups and a directory.',
          );
        return c.json(shown(await backups.make()), 201);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{file}',
        ...allow(),
        tags,
        summary: 'One backup as a file',
        request: { params: schemas.backupFile },
        responses: file('application/gzip', 'The file, to be brought back with --restore'),
      }),
      (c) => {
        const { file: name } = c.req.valid('param');
        const path = backups?.pathOf(name);
        if (path === undefined || !existsSync(path)) throw new NotFound('backup');
        return new Response(Readable.toWeb(createReadStream(path)) as ReadableStream, {
          headers: {
            'content-type': 'application/gzip',
            'content-length': String(statSync(path).size),
            'content-disposition': `attachment; filename="${name}"`,
            'cache-control': 'no-store',
          },
        });
      },
    );

function shown({ file: name, madeAt, sizeBytes }: KeptBackup) {
  return { file: name, madeAt: madeAt.toISOString(), sizeBytes };
}
