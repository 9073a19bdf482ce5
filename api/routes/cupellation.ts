import { createRoute } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import * as schemas from '../schemas/cupellation.ts';
import * as cupellation from '../../db/queries/cupellation.ts';

const tags = ['Cupellation'];

export const cupellationRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'How losses in cupelling are corrected for, and the proofs',
        responses: answers(schemas.cupellation, 'The correction'),
      }),
      async (c) => c.json(await cupellation.findCupellation(db), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/',
        ...allow(),
        tags,
        summary: 'Change the correction for losses in cupelling',
        request: { body: jsonBody(schemas.cupellationChange) },
        responses: answers(schemas.cupellation, 'The correction as changed'),
      }),
      async (c) => c.json(await cupellation.updateCupellation(db, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/proofs',
        ...allow('operator'),
        tags,
        summary: 'Enter a proof: pure metal of known mass that was cupelled',
        request: { body: jsonBody(schemas.newCupellationProof) },
        responses: created(schemas.cupellation, 'The correction with its proofs'),
      }),
      async (c) => c.json(await cupellation.insertCupellationProof(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/proofs/{id}',
        ...allow('operator'),
        tags,
        summary: 'Remove a proof',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await cupellation.deleteCupellationProof(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    );
