import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, subApp, type Deps } from './describe.ts';
import * as schemas from '../schemas/treatment.ts';
import * as treatments from '../../db/queries/treatments.ts';

const tags = ['Treatments'];

export const treatmentRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'Treatments with their recipes',
        responses: answers(z.array(schemas.treatment), 'The treatments'),
      }),
      async (c) => c.json(await treatments.listTreatments(db), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags,
        summary: 'Enter a treatment',
        request: { body: jsonBody(schemas.newTreatment) },
        responses: created(schemas.treatment, 'The treatment'),
      }),
      async (c) => c.json(await treatments.insertTreatment(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'One treatment',
        request: { params: idParam },
        responses: answers(schemas.treatment, 'The treatment'),
      }),
      async (c) => c.json(await treatments.findTreatment(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow(),
        tags,
        summary: 'Change a treatment',
        request: { params: idParam, body: jsonBody(schemas.treatmentChange) },
        responses: answers(schemas.treatment, 'The treatment as changed'),
      }),
      async (c) =>
        c.json(await treatments.updateTreatment(db, c.req.valid('param').id, c.req.valid('json')), 200),
    );
