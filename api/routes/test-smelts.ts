import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { idList, listAnswers, pageAsked, paging, rowsOf } from './list.ts';
import { changeTestSmelt, enterTestSmelt } from '../enter-test-smelt.ts';
import * as schemas from '../schemas/test-smelt.ts';
import { testSmeltEntry, testSmeltEntryChange } from '../schemas/test-smelt-entry.ts';
import * as smelts from '../../db/queries/test-smelts.ts';

export const trialRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags: ['Trials'],
        summary: 'Trials with their test smelts, lot by lot as the lots were made',
        request: {
          query: z.object({
            ids: idList,
            lotId: z.uuid().optional(),
            lotIds: idList,
            seasonId: z.uuid().optional(),
            ...paging(50, 200),
          }),
        },
        responses: listAnswers(schemas.trialWithSmelts, 'The trials'),
      }),
      async (c) => {
        const { lotId, lotIds, ...query } = c.req.valid('query');
        const filter = { ...query, lotIds: lotId === undefined ? lotIds : [lotId] };
        return c.json(rowsOf(c, await smelts.pageOfTrials(db, filter, pageAsked(query))), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow('operator'),
        tags: ['Trials'],
        summary: 'Open a trial: replicates of one recipe on one lot',
        request: { body: jsonBody(schemas.newTrial) },
        responses: created(schemas.trial, 'The trial'),
      }),
      async (c) => c.json(await smelts.insertTrial(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow('operator'),
        tags: ['Trials'],
        summary: 'Change a trial',
        request: { params: idParam, body: jsonBody(schemas.trialChange) },
        responses: answers(schemas.trial, 'The trial as changed'),
      }),
      async (c) => c.json(await smelts.updateTrial(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow('operator'),
        tags: ['Trials'],
        summary: 'Remove a trial that has no test smelts',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await smelts.deleteTrial(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    );

export const testSmeltRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow('operator'),
        tags: ['Test smelts'],
        summary: 'Enter a test smelt, with what it names that is new, all or nothing',
        request: { body: jsonBody(testSmeltEntry) },
        responses: created(schemas.testSmelt, 'The test smelt'),
      }),
      async (c) => c.json(await enterTestSmelt(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant'),
        tags: ['Test smelts'],
        summary: 'One test smelt',
        request: { params: idParam },
        responses: answers(schemas.testSmelt, 'The test smelt'),
      }),
      async (c) => c.json(await smelts.findTestSmelt(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow('operator'),
        tags: ['Test smelts'],
        summary: 'Change a test smelt, or set it aside with a reason',
        request: { params: idParam, body: jsonBody(testSmeltEntryChange) },
        responses: answers(schemas.testSmelt, 'The test smelt as changed'),
      }),
      async (c) => c.json(await changeTestSmelt(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow('operator'),
        tags: ['Test smelts'],
        summary: 'Remove a test smelt',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await smelts.deleteTestSmelt(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    );
