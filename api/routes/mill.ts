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
import { pdfResponse } from '../pdf-response.ts';
import { accountantCsvFile, statementsZipFile } from '../season-downloads.ts';
import { seasonDocument } from '../season-document.ts';
import * as schemas from '../schemas/mill.ts';
import { PAGE_WAIT_MS } from '../../db/queries/kept-grades.ts';
import * as mill from '../../db/queries/mill.ts';

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
      async (c) =>
        c.json(await seasonDocument(db, c.req.valid('param').id, today(), { withinMs: PAGE_WAIT_MS }), 200),
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
      async (c) => accountantCsvFile(deps, c.req.valid('param').id),
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
      async (c) => statementsZipFile(deps, c.req.valid('param').id, requestIdOf(c)),
    );
};
