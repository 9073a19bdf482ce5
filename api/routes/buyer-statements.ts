import { createRoute, z } from '@hono/zod-openapi';
import {
  allow,
  answers,
  created,
  csvBody,
  file,
  idParam,
  jsonBody,
  nothing,
  subApp,
  type Deps,
} from './describe.ts';
import { buyerDocument, holdAgainst, requireComparable } from '../hold-buyer-statement.ts';
import { readBuyerLines } from '../imports/buyer-lines-file.ts';
import { bytesOf } from '../imports/csv-request.ts';
import { pdfResponse } from '../pdf-response.ts';
import * as schemas from '../schemas/buyer-statement.ts';
import { reportSchema } from './report-schema.ts';
import * as buyers from '../../db/queries/buyer-statements.ts';
import { findMill } from '../../db/queries/mill.ts';
import { findStatement } from '../../db/queries/statements.ts';

const tags = ["Buyers' statements"];
const ofStatement = z.object({ statementId: z.uuid({ error: 'must be the id of a record' }) });

export const buyerStatementRoutes = (deps: Deps) => {
  const { db } = deps;
  return subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'What the buyer sent in answer to one statement of ours, newest first',
        request: { query: ofStatement },
        responses: answers(z.array(schemas.buyerStatement), 'The statements'),
      }),
      async (c) => c.json(await buyers.listBuyerStatements(db, c.req.valid('query').statementId), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags,
        summary: 'Enter a statement of the buyer',
        request: { body: jsonBody(schemas.newBuyerStatement) },
        responses: created(schemas.buyerStatement, 'The statement'),
      }),
      async (c) => {
        const entry = c.req.valid('json');
        requireComparable(await findStatement(db, entry.statementId), entry);
        return c.json(await buyers.insertBuyerStatement(db, entry), 201);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/preview',
        ...allow('accountant'),
        tags,
        summary: 'Hold lines of the buyer against ours without keeping them',
        request: { body: jsonBody(schemas.buyerComparisonEntry) },
        responses: answers(schemas.comparison, 'Every line with its difference, and what explains it'),
      }),
      async (c) => {
        const entry = c.req.valid('json');
        const ours = await findStatement(db, entry.statementId);
        requireComparable(ours, entry);
        return c.json(await holdAgainst(ours, entry), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/read',
        ...allow('accountant'),
        tags,
        summary: 'Read a table of the buyer’s lines and propose which lines of ours they answer to',
        request: { query: ofStatement, body: csvBody },
        responses: answers(schemas.readBuyerLines, 'The lines, and everything that is wrong with the table'),
      }),
      async (c) => {
        const ours = await findStatement(db, c.req.valid('query').statementId);
        const read = await readBuyerLines({
          bytes: await bytesOf(c),
          settings: await findMill(db),
          ours: ours.settlement,
          signal: c.req.raw.signal,
        });
        return c.json(read, 200);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'One statement of the buyer',
        request: { params: idParam },
        responses: answers(schemas.buyerStatement, 'The statement'),
      }),
      async (c) => c.json(await buyers.findBuyerStatement(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow(),
        tags,
        summary: 'Change a statement of the buyer that was entered wrongly',
        request: { params: idParam, body: jsonBody(schemas.buyerStatementChange) },
        responses: answers(schemas.buyerStatement, 'The statement as changed'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        const change = c.req.valid('json');
        const { statementId } = await buyers.findBuyerStatement(db, id);
        requireComparable(await findStatement(db, statementId), change);
        return c.json(await buyers.updateBuyerStatement(db, id, change), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow(),
        tags,
        summary: 'Remove a statement of the buyer that was entered by mistake',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await buyers.deleteBuyerStatement(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/comparison',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'The statement of the buyer held against ours, as a report',
        request: { params: idParam },
        responses: answers(reportSchema, 'The report'),
      }),
      async (c) =>
        c.json(await buyerDocument(db, await buyers.findBuyerStatement(db, c.req.valid('param').id)), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/comparison.pdf',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'The comparison to print and to send',
        request: { params: idParam },
        responses: file('application/pdf', 'The PDF'),
      }),
      async (c) => {
        const theirs = await buyers.findBuyerStatement(db, c.req.valid('param').id);
        return pdfResponse(deps, await buyerDocument(db, theirs), `comparison-${theirs.number}`);
      },
    );
};
