import { createRoute, z } from '@hono/zod-openapi';
import { allow, answers, created, file, subApp, type Deps } from './describe.ts';
import { reportSchema } from './report-schema.ts';
import { closeMonth, listMonths } from '../close-month.ts';
import { monthDocument } from '../month-document.ts';
import { PAGE_WAIT_MS } from '../../db/queries/kept-grades.ts';
import { pdfResponse } from '../pdf-response.ts';
import { monthParam, months } from '../schemas/month.ts';
import { NotFound } from '../../db/queries/changed.ts';
import { whoActs } from '../../db/audit/acting.ts';

export const monthRoutes = (deps: Deps) => {
  const { db, now } = deps;
  const today = () => now().toISOString().slice(0, 10);
  /** What is planned lies in the next year at most; every month until then would be worked through. */
  const asked = ({ month }: { month: string }): string => {
    if (Number(month.slice(0, 4)) > now().getUTCFullYear() + 1) throw new NotFound('month');
    return month;
  };
  return subApp()
    .openapi(
      createRoute({
        method: 'get',
        path: '/',
        ...allow('operator', 'accountant'),
        tags: ['Months'],
        summary: 'The months of a year: open or closed, with their lead figures',
        request: { query: z.object({ year: z.coerce.number().int().min(1000).max(9999).optional() }) },
        responses: answers(months, 'The months, newest first'),
      }),
      async (c) => c.json(await listMonths(db, today(), c.req.valid('query').year), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{month}/report',
        ...allow('operator', 'accountant'),
        tags: ['Months'],
        summary: 'The production report of a month; of a closed one as it was closed',
        request: { params: monthParam },
        responses: answers(reportSchema, 'The report'),
      }),
      async (c) => {
        const month = asked(c.req.valid('param'));
        return c.json(await monthDocument(db, month, today(), { withinMs: PAGE_WAIT_MS }), 200);
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/{month}/report.pdf',
        ...allow('operator', 'accountant'),
        tags: ['Months'],
        summary: 'The production report of a month to print',
        request: { params: monthParam },
        responses: file('application/pdf', 'The PDF'),
      }),
      async (c) => {
        const month = asked(c.req.valid('param'));
        return pdfResponse(deps, await monthDocument(db, month, today()), `month-${month}`);
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/{month}/close',
        ...allow(),
        tags: ['Months'],
        summary:
          'Close a month: its entries and its report stay as they are, later changes count as corrections',
        request: { params: monthParam },
        responses: created(reportSchema, 'The report as it was frozen'),
      }),
      async (c) => {
        const month = asked(c.req.valid('param'));
        await closeMonth(db, month, today(), whoActs()?.name ?? 'the owner');
        return c.json(await monthDocument(db, month, today()), 201);
      },
    );
};
