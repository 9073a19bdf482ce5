import { createRoute, z } from '@hono/zod-openapi';
import { bodyLimit } from 'hono/body-limit';
import { allow, answers, csvBody, file, requestIdOf, subApp, type Deps } from './describe.ts';
import { bytesOf } from '../imports/csv-request.ts';
import { lineAnswer } from '../imports/line-answer.ts';
import { previewImport, runImport } from '../imports/run-import.ts';
import { templateFile } from '../imports/template-file.ts';
import { Problem } from '../problem.ts';
import { importedFile, importFileName, importKind, LARGEST_IMPORT_BYTES } from '../schemas/import.ts';
import { listImportedFiles } from '../../db/queries/imports.ts';
import { findMill } from '../../db/queries/mill.ts';
import { listSupplies } from '../../db/queries/supplies.ts';

const tags = ['Imports'];
const kindParam = z.object({ kind: importKind });
const MOST_LISTED_FILES = 50;

const csvFile = {
  request: {
    params: kindParam,
    query: z.object({ fileName: importFileName }),
    body: csvBody,
  },
  middleware: bodyLimit({
    maxSize: LARGEST_IMPORT_BYTES,
    onError: () => {
      throw new Problem(
        'too-large',
        `The file is larger than ${LARGEST_IMPORT_BYTES / 1024 ** 2} MiB. Split it into smaller files.`,
      );
    },
  }),
  responses: file(
    'application/x-ndjson',
    'Lines of JSON: {"progress":{"done","of","step"}} any number of times, at the end {"result"} or {"problem"}',
  ),
} as const;

export const importRoutes = ({ db, now }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'The files that were imported, newest first',
        responses: answers(z.array(importedFile), 'The files'),
      }),
      async (c) => c.json(await listImportedFiles(db, MOST_LISTED_FILES), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/templates/{kind}',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'A file to fill in, with two invented rows, written as the settings have files',
        request: { params: kindParam },
        responses: file('text/csv', 'RFC 4180, UTF-8'),
      }),
      async (c) => {
        const { kind } = c.req.valid('param');
        const { decimalComma } = await findMill(db);
        const supplies = await listSupplies(db);
        const reagentNames = supplies
          .filter((supply) => supply.kind === 'reagent' || supply.kind === 'litharge')
          .map(({ name }) => name);
        return c.body(templateFile(kind, { decimalComma, reagentNames }), 200, {
          'content-type': 'text/csv; charset=utf-8',
          'content-disposition': `attachment; filename="${kind}.csv"`,
        });
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{kind}/preview',
        ...allow(),
        tags,
        summary: 'Say what importing a file would do, and everything that is wrong with it',
        ...csvFile,
      }),
      async (c) => {
        const { kind } = c.req.valid('param');
        const { fileName } = c.req.valid('query');
        const bytes = await bytesOf(c);
        return lineAnswer(requestIdOf(c), (watch) =>
          previewImport(db, { kind, fileName, bytes, today: now().toISOString().slice(0, 10) }, watch),
        );
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{kind}',
        ...allow(),
        tags,
        summary: 'Import a file: all its new rows, or none when anything is wrong with it',
        ...csvFile,
      }),
      async (c) => {
        const { kind } = c.req.valid('param');
        const { fileName } = c.req.valid('query');
        const bytes = await bytesOf(c);
        return lineAnswer(requestIdOf(c), (watch) =>
          runImport(db, { kind, fileName, bytes, today: now().toISOString().slice(0, 10) }, watch),
        );
      },
    );
