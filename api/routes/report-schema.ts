import { z } from '@hono/zod-openapi';
import type { Report } from '../../reports/model/report.ts';

/** A report as the page draws it; its shape is reports/model/report.ts. */
export const reportSchema = z
  .custom<Report>((value) => typeof value === 'object' && value !== null)
  .openapi({
    type: 'object',
    description: 'A report: title, subtitle and blocks of text, figures and charts',
  });
