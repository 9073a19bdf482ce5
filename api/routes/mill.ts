import { createRoute, z } from '@hono/zod-openapi';
import {
  allow,
  answers,
  created,
  file,
  idParam,
  jsonBody,
  requestIdOf,
  subApp,
  type Deps,
} from './describe.ts';
import { reportSchema } from './report-schema.ts';
import { logError } from '../log.ts';
import { fileNameOf, pdfResponse } from '../pdf-response.ts';
import { Problem } from '../problem.ts';
import { accountantRows, seasonDocument } from '../season-document.ts';
import * as schemas from '../schemas/mill.ts';
import { statementPdfs } from '../statements-zip.ts';
import { zipStream } from '../zip-stream.ts';
import * as mill from '../../db/queries/mill.ts';
import { listStatements } from '../../db/queries/statements.ts';
import { accountantCsv } from '../../reports/csv/accountant-csv.ts';

export const millRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant', 'customer'),
        tags: ['Mill'],
        summary: 'The settings of the mill',
        responses: answers(schemas.mill, 'The settings'),
      }),
      async (c) => c.json(await mill.findMill(db), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/',
        ...allow(),
        tags: ['Mill'],
        summary: 'Change the settings of the mill',
        request: { body: jsonBody(schemas.millChange) },
        responses: answers(schemas.mill, 'The settings as changed'),
      }),
      async (c) => c.json(await mill.updateMill(db, c.req.valid('json')), 200),
    );

export const seasonRoutes = (deps: Deps) => {
  const { db, now } = deps;
  const today = () => now().toISOString().slice(0, 10);
  return subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags: ['Seasons'],
        summary: 'Seasons, newest first',
        responses: answers(z.array(schemas.season), 'The seasons'),
      }),
      async (c) => c.json(await mill.listSeasons(db), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags: ['Seasons'],
        summary: 'Open a season',
        request: { body: jsonBody(schemas.newSeason) },
        responses: created(schemas.season, 'The season'),
      }),
      async (c) => c.json(await mill.insertSeason(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow(),
        tags: ['Seasons'],
        summary: 'Change a season',
        request: { params: idParam, body: jsonBody(schemas.seasonChange) },
        responses: answers(schemas.season, 'The season as changed'),
      }),
      async (c) => c.json(await mill.updateSeason(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/summary',
        ...allow('operator', 'accountant'),
        tags: ['Seasons'],
        summary: 'The season summary as the page shows it',
        request: { params: idParam },
        responses: answers(reportSchema, 'The report'),
      }),
      async (c) => c.json(await seasonDocument(db, c.req.valid('param').id, today()), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/summary.pdf',
        ...allow('operator', 'accountant'),
        tags: ['Seasons'],
        summary: 'The season summary to print',
        request: { params: idParam },
        responses: file('application/pdf', 'The PDF'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        const { name } = await mill.findSeason(db, id);
        return pdfResponse(deps, await seasonDocument(db, id, today()), `season-${name}`);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/accountant.csv',
        ...allow('operator', 'accountant'),
        tags: ['Seasons'],
        summary: 'The sales and costs behind the season, one row an amount',
        request: { params: idParam },
        responses: file('text/csv', 'RFC 4180, UTF-8'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        const { name } = await mill.findSeason(db, id);
        return new Response(accountantCsv(await accountantRows(db, id), { byteOrderMark: true }), {
          headers: {
            'content-type': 'text/csv; charset=utf-8',
            'content-disposition': `attachment; filename="${fileNameOf(`accountant-${name}`)}.csv"`,
            'cache-control': 'no-store',
          },
        });
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/statements.zip',
        ...allow('operator', 'accountant'),
        tags: ['Seasons'],
        summary: 'All issued statements of a season as PDFs, named by their numbers',
        request: { params: idParam },
        responses: file(
          'application/zip',
          'The archive, made while it is sent; the header x-statement-count says how many files it will hold',
        ),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        const { name } = await mill.findSeason(db, id);
        const issued = (await listStatements(db, { seasonId: id })).filter(
          ({ status }) => status === 'issued',
        );
        if (issued.length === 0)
          throw new Problem('not-found', `No statement of season ${name} has been issued yet.`);
        const requestId = requestIdOf(c);
        const archive = zipStream(statementPdfs(deps, issued), (error) =>
          logError('statements-zip-failed', { requestId, error }),
        );
        return new Response(archive, {
          headers: {
            'content-type': 'application/zip',
            'content-disposition': `attachment; filename="${fileNameOf(`statements-${name}`)}.zip"`,
            'x-statement-count': String(issued.length),
            'cache-control': 'no-store',
          },
        });
      },
    );
};
