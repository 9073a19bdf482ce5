import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, file, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { listAnswers, pageAsked, paging, rowsOf } from './list.ts';
import { decisionDocument } from '../decision-document.ts';
import { asOneWrite } from '../audit/writes.ts';
import { freezeDecision } from '../freeze-decision.ts';
import { pdfResponse } from '../pdf-response.ts';
import * as schemas from '../schemas/decision.ts';
import { isoDate } from '../schemas/fields.ts';
import { decisionFactsSchema } from './facts-schema.ts';
import { reportSchema } from './report-schema.ts';
import * as decisions from '../../db/queries/decisions.ts';
import { decisionFacts } from '../../db/queries/facts.ts';

const tags = ['Decisions'];

export const decisionRoutes = (deps: Deps) => {
  const { db, now } = deps;
  return subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/facts',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'Everything that a decision about a lot is worked from, as the books stood on a day',
        request: { query: z.object({ lotId: z.uuid(), on: isoDate.optional() }) },
        responses: answers(decisionFactsSchema, 'The facts; the page works the decision out from them'),
      }),
      async (c) => {
        const { lotId, on } = c.req.valid('query');
        return c.json(await decisionFacts(db, lotId, on ?? now().toISOString().slice(0, 10)), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'Recorded decisions in the order in which they were taken, with what came of them',
        request: {
          query: z.object({ lotId: z.uuid().optional(), seasonId: z.uuid().optional(), ...paging(50, 100) }),
        },
        responses: listAnswers(schemas.decision, 'The decisions'),
      }),
      async (c) => {
        const query = c.req.valid('query');
        return c.json(rowsOf(c, await decisions.pageOfDecisions(db, query, pageAsked(query))), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags,
        summary: 'Record a decision with its reason: works it out again and freezes all that it rests on',
        request: { body: jsonBody(schemas.newDecision) },
        responses: created(schemas.decision, 'The decision'),
      }),
      async (c) => {
        const { assumptions, inquiryCosts, ...fields } = c.req.valid('json');
        return asOneWrite(c, db, {
          work: () => freezeDecision(db, fields, assumptions, inquiryCosts),
          write: async (frozen) => c.json(await decisions.insertDecision(db, fields, frozen), 201),
        });
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'One recorded decision',
        request: { params: idParam },
        responses: answers(schemas.decision, 'The decision'),
      }),
      async (c) => c.json(await decisions.findDecision(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow(),
        tags,
        summary: 'Take a decision recorded by mistake off the books; not while a batch names it',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await decisions.deleteDecision(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/frozen',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'All that a decision was worked from and that was worked out of it, to repeat it',
        request: { params: idParam },
        responses: answers(z.record(z.string(), z.unknown()), 'Facts, assumptions and results'),
      }),
      async (c) => {
        const frozen = await decisions.findFrozenDecision(db, c.req.valid('param').id);
        return c.json({ ...frozen } as Record<string, unknown>, 200);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/report',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'The decision as a report, as the page shows it',
        request: { params: idParam },
        responses: answers(reportSchema, 'The report'),
      }),
      async (c) => c.json(await decisionDocument(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/decision.pdf',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'The decision on two pages, for a partner or a bank',
        request: {
          params: idParam,
          query: z.object({ paper: z.enum(['A4', 'Letter']).optional() }),
        },
        responses: file('application/pdf', 'The PDF'),
      }),
      async (c) => {
        const { id } = c.req.valid('param');
        const { lotCode, decidedOn } = await decisions.findDecision(db, id);
        const { paper } = c.req.valid('query');
        const name = `decision-${lotCode}-${decidedOn}`;
        return pdfResponse(deps, await decisionDocument(db, id), name, paper);
      },
    );
};
