import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, idParam, jsonBody, nothing, subApp, type Deps } from './describe.ts';
import { Problem } from '../problem.ts';
import { newStatementPayment, statementPayment } from '../schemas/statement-payment.ts';
import * as payments from '../../db/queries/statement-payments.ts';

const tags = ['Statements'];

/** Payments of issued statements, under the statement that they are of. */
export const statementPaymentRoutes = ({ db, now }: Deps) =>
  subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/{id}/payments',
        ...allow('operator', 'accountant'),
        tags,
        summary: 'What was paid on a statement, oldest first',
        request: { params: idParam },
        responses: answers(z.array(statementPayment), 'The payments'),
      }),
      async (c) => c.json(await payments.listPayments(db, c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{id}/payments',
        ...allow(),
        tags,
        summary: 'Enter a payment of an issued statement',
        request: { params: idParam, body: jsonBody(newStatementPayment) },
        responses: created(statementPayment, 'The payment'),
      }),
      async (c) => {
        const payment = c.req.valid('json');
        const today = now().toISOString().slice(0, 10);
        if (payment.paidOn > today)
          throw new Problem('validation', 'A payment cannot be entered before it is made.', {
            errors: [{ pointer: '/paidOn', detail: `${payment.paidOn} must not be after today, ${today}.` }],
          });
        return c.json(await payments.insertPayment(db, c.req.valid('param').id, payment), 201);
      },
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/{id}/payments/{paymentId}',
        ...allow(),
        tags,
        summary: 'Remove a payment that was entered wrongly',
        request: { params: idParam.extend({ paymentId: z.uuid() }) },
        responses: nothing('Removed'),
      }),
      async (c) => {
        const { id, paymentId } = c.req.valid('param');
        await payments.deletePayment(db, id, paymentId);
        return c.body(null, 204);
      },
    );
