import { createRoute, z } from '@hono/zod-openapi';
import { answers, created, idParam, jsonBody, subApp, type Deps } from './describe.ts';
import * as schemas from '../schemas/mill.ts';
import * as mill from '../../db/queries/mill.ts';

export const millRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
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
        tags: ['Mill'],
        summary: 'Change the settings of the mill',
        request: { body: jsonBody(schemas.millChange) },
        responses: answers(schemas.mill, 'The settings as changed'),
      }),
      async (c) => c.json(await mill.updateMill(db, c.req.valid('json')), 200),
    );

export const seasonRoutes = ({ db }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
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
        tags: ['Seasons'],
        summary: 'Change a season',
        request: { params: idParam, body: jsonBody(schemas.seasonChange) },
        responses: answers(schemas.season, 'The season as changed'),
      }),
      async (c) => c.json(await mill.updateSeason(db, c.req.valid('param').id, c.req.valid('json')), 200),
    );
