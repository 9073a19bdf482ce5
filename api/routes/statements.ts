import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, file, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { idList, listAnswers, pageAsked, paging, rowsOf } from './list.ts';
import { ownRecordsOf } from '../accounts/actor.ts';
import { Problem } from '../problem.ts';
import { pdfResponse } from '../pdf-response.ts';
import * as schemas from '../schemas/statement.ts';
import { isoDate, version } from '../schemas/fields.ts';
import { reportSchema } from './report-schema.ts';
import { statementDocument } from '../statement-document.ts';
import { workStatement } from '../work-statement.ts';
import * as statements from '../../db/queries/statements.ts';

const tags = ['Statements'];

/** What leaves the server of a kept statement: what it was worked from is on its print. */
function shown(statement: statements.KeptStatement) {
  const { kept: _kept, supersedesId: _supersedesId, counterpartyAddress: _address, ...rest } = statement;
  return rest;
}

export const statementRoutes = (deps: Deps) => {
  const { db, now } = deps;
  return subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant', 'customer:own-list'),
        tags,
        summary: 'Statements, issued ones in the order of their numbers',
        request: {
          query: z.object({
            productId: z.uuid().optional(),
            productIds: idList,
            seasonId: z.uuid().optional(),
            status: z.enum(['draft', 'issued']).optional(),
            unpaid: z
              .enum(['true'])
              .optional()
              .openapi({ description: 'Only issued ones not paid in full.' }),
            ...paging(100, 200),
          }),
        },
        responses: listAnswers(schemas.statementSummary, 'The statements'),
      }),
      async (c) => {
        const { productId, productIds, unpaid, ...query } = c.req.valid('query');
        const filter = {
          ...query,
          productIds: productId === undefined ? productIds : [productId],
          unpaid: unpaid === 'true',
          issuedTo: ownRecordsOf(c),
        };
        return c.json(rowsOf(c, await statements.pageOfStatements(db, filter, pageAsked(query))), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/preview',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'Work a settlement out without keeping it',
        request: { body: jsonBody(schemas.statementEntry) },
        responses: answers(schemas.settlement, 'The settlement'),
      }),
      async (c) => c.json((await workStatement(db, c.req.valid('json'))).settlement, 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags,
        summary: 'Keep a draft statement',
        request: { body: jsonBody(schemas.statementEntry) },
        responses: created(schemas.statement, 'The draft'),
      }),
      async (c) => {
        const worked = await workStatement(db, c.req.valid('json'));
        return c.json(shown(await statements.insertDraft(db, worked)), 201);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant', 'customer:own-statement'),
        tags,
        summary: 'One statement with its lines',
        request: { params: idParam },
        responses: answers(schemas.statement, 'The statement'),
      }),
      async (c) => c.json(shown(await statements.findStatement(db, c.req.valid('param').id)), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow(),
        tags,
        summary: 'Change a draft; an issued statement is never altered',
        request: { params: idParam, body: jsonBody(schemas.statementEntryChange) },
        responses: answers(schemas.statement, 'The draft as changed'),
      }),
      async (c) => {
        const { version, ...entry } = c.req.valid('json');
        const { id } = c.req.valid('param');
        const worked = await workStatement(db, entry);
        return c.json(shown(await statements.updateDraft(db, id, version, worked)), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow(),
        tags,
        summary: 'Throw a draft away',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await statements.deleteDraft(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{id}/issue',
        ...allow(),
        tags,
        summary: 'Issue a draft: it gets its number and is from then on only followed, never altered',
        request: {
          params: idParam,
          body: jsonBody(z.object({ version, issuedOn: isoDate })),
        },
        responses: answers(schemas.statement, 'The issued statement'),
      }),
      async (c) => {
        const { version, issuedOn } = c.req.valid('json');
        const today = now().toISOString().slice(0, 10);
        if (issuedOn > today)
          throw new Problem('validation', 'A statement cannot be issued in the future.', {
            errors: [
              { pointer: '/issuedOn', detail: `Issue date ${issuedOn} must not be after today, ${today}.` },
            ],
          });
        const issued = await statements.issueDraft(db, c.req.valid('param').id, version, issuedOn);
        return c.json(shown(issued), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/report',
        ...allow('operator', 'accountant', 'customer:own-statement'),
        tags,
        summary: 'The statement as a report, as the page shows it',
        request: { params: idParam },
        responses: answers(reportSchema, 'The report'),
      }),
      async (c) => c.json(await statementDocument(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/statement.pdf',
        ...allow('operator', 'accountant', 'customer:own-statement'),
        tags,
        summary: 'The statement to print, sign and send',
        request: { params: idParam },
        responses: file('application/pdf', 'The PDF'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        const { number, stage } = await statements.findStatement(db, id);
        return pdfResponse(deps, await statementDocument(db, id), `statement-${number ?? 'draft'}-${stage}`);
      },
    );
};
