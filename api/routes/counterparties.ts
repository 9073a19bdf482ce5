import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, subApp, type Deps } from './describe.ts';
import * as schemas from '../schemas/counterparty.ts';
import * as counterparties from '../../db/queries/counterparties.ts';

const tags = ['Counterparties'];

export const counterpartyRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'Buyers, refiners and others that terms are agreed with',
        responses: answers(z.array(schemas.counterparty), 'The counterparties'),
      }),
      async (c) => c.json(await counterparties.listCounterparties(db), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow(),
        tags,
        summary: 'Enter a counterparty',
        request: { body: jsonBody(schemas.newCounterparty) },
        responses: created(schemas.counterparty, 'The counterparty'),
      }),
      async (c) => c.json(await counterparties.insertCounterparty(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow(),
        tags,
        summary: 'Change a counterparty',
        request: { params: idParam, body: jsonBody(schemas.counterpartyChange) },
        responses: answers(schemas.counterparty, 'The counterparty as changed'),
      }),
      async (c) =>
        c.json(
          await counterparties.updateCounterparty(db, c.req.valid('param').id, c.req.valid('json')),
          200,
        ),
    );
