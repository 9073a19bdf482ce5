import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, file, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { listAnswers, pageAsked, paging, rowsOf } from './list.ts';
import { packingListDocument } from '../packing-list-document.ts';
import { pdfResponse } from '../pdf-response.ts';
import { worthOfShipment } from '../production-stock.ts';
import * as schemas from '../schemas/shipment.ts';
import { shipmentWorthSchema } from '../schemas/stock.ts';
import * as shipments from '../../db/queries/shipments.ts';

const tags = ['Shipments'];

export const shipmentRoutes = (deps: Deps) => {
  const { db } = deps;
  return subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'Shipments in the order they went out, each with its products',
        request: {
          query: z.object({
            underWay: z.enum(['true']).optional().openapi({ description: 'Only those not arrived yet.' }),
            productId: z
              .uuid()
              .optional()
              .openapi({ description: 'Only the one that a product went out with.' }),
            ...paging(100, 200),
          }),
        },
        responses: listAnswers(schemas.shipment, 'The shipments'),
      }),
      async (c) => {
        const { underWay, productId, ...query } = c.req.valid('query');
        const filter = { underWay: underWay === 'true', productId };
        return c.json(rowsOf(c, await shipments.pageOfShipments(db, filter, pageAsked(query))), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/',
        ...allow('operator'),
        tags,
        summary: 'Send products out of stock to a buyer',
        request: { body: jsonBody(schemas.newShipment) },
        responses: created(schemas.shipment, 'The shipment'),
      }),
      async (c) => c.json(await shipments.insertShipment(db, c.req.valid('json')), 201),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'One shipment',
        request: { params: idParam },
        responses: answers(schemas.shipment, 'The shipment'),
      }),
      async (c) => c.json(await shipments.findShipment(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/{id}',
        ...allow('operator'),
        tags,
        summary: 'Change a shipment, such as by the day it arrived',
        request: { params: idParam, body: jsonBody(schemas.shipmentChange) },
        responses: answers(schemas.shipment, 'The shipment as changed'),
      }),
      async (c) =>
        c.json(await shipments.updateShipment(db, c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}',
        ...allow('operator'),
        tags,
        summary: 'Remove a shipment that did not go out; its products are in stock again',
        request: { params: idParam },
        responses: nothing('Removed'),
      }),
      async (c) => {
        await shipments.deleteShipment(db, c.req.valid('param').id);
        return c.body(null, 204);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/worth',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'What a shipment is worth by the last quotations, and whether it is insured for that',
        request: { params: idParam },
        responses: answers(shipmentWorthSchema, 'An estimate, never booked'),
      }),
      async (c) => c.json(await worthOfShipment(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/packing-list.pdf',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'The packing list to print',
        request: { params: idParam },
        responses: file('application/pdf', 'The PDF'),
      }),
      async (c) => {
        const { report, code } = await packingListDocument(db, c.req.valid('param').id);
        return pdfResponse(deps, report, `packing-list-${code}`);
      },
    );
};
