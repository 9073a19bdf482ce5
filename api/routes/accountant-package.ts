import { createRoute, z } from '@hono/zod-openapi';
import { allow, file, requestIdOf, subApp, type Deps } from './describe.ts';
import { accountantPackage } from '../accountant-package.ts';
import { isoDate } from '../schemas/fields.ts';

export const accountantPackageRoutes = (deps: Deps) =>
  subApp().openapi(
    createRoute({
      method: 'get',
      path: '/',
      ...allow('accountant'),
      tags: ['Accountant'],
      summary: 'The books of a period: workbook, the same as CSV, and the PDFs of its statements',
      request: {
        query: z.object({
          from: isoDate.describe('First day'),
          to: isoDate.describe('Last day'),
        }),
      },
      responses: file(
        'application/zip',
        'The archive, made while it is sent; the header x-file-count says how many files it will hold. A record in a currency without an exchange rate stops it before anything is sent',
      ),
    }),
    async (c) => accountantPackage(deps, c.req.valid('query'), requestIdOf(c)),
  );
