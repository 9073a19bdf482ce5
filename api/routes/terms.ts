import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, subApp, type Deps } from './describe.ts';
import { Problem } from '../problem.ts';
import { checkTerms } from '../calc/terms/check-terms.ts';
import type { Terms } from '../calc/terms/terms.ts';
import * as schemas from '../schemas/terms-record.ts';
import { termsSchema } from '../schemas/terms.ts';
import * as terms from '../../db/queries/terms.ts';

const tags = ['Terms'];

/** Terms that contradict themselves are refused, each contradiction at its field. */
function requireApplicable(body: Terms): void {
  const blockers = checkTerms(body).filter((finding) => finding.level === 'blocker');
  if (blockers.length > 0)
    throw new Problem('validation', 'These terms contradict themselves or cannot be applied.', {
      errors: blockers.map((finding) => ({ pointer: `/body${finding.path}`, detail: finding.sentence })),
    });
}

export const termsRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'Contracts with buyers, refiners and customers, every version',
        responses: answers(z.array(schemas.termsRecord), 'The terms, newest version of each contract first'),
      }),
      async (c) => c.json(await terms.listTerms(db), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/schema.json',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'JSON Schema of a contract, for those who write or read terms elsewhere',
        responses: answers(z.record(z.string(), z.unknown()), 'The JSON Schema, draft 2020-12'),
      }),
      (c) => c.json(z.toJSONSchema(termsSchema) as Record<string, unknown>, 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags,
        summary: 'Enter a contract',
        request: { body: jsonBody(schemas.newTerms) },
        responses: created(schemas.termsRecord, 'The terms, version 1'),
      }),
      async (c) => {
        const fields = c.req.valid('json');
        requireApplicable(fields.body);
        return c.json(await terms.insertTerms(db, fields), 201);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'One version of a contract',
        request: { params: idParam },
        responses: answers(schemas.termsRecord, 'The terms'),
      }),
      async (c) => c.json(await terms.findTerms(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{id}/versions',
        ...allow(),
        tags,
        summary: 'Change a contract: the next version; what was settled under the old one stays',
        request: { params: idParam, body: jsonBody(schemas.nextTerms) },
        responses: created(schemas.termsRecord, 'The new version'),
      }),
      async (c) => {
        const fields = c.req.valid('json');
        requireApplicable(fields.body);
        return c.json(await terms.insertNextTerms(db, c.req.valid('param').id, fields), 201);
      },
    );
