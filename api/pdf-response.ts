import { findMill } from '../db/queries/mill.ts';
import { paintReport } from '../reports/pdf/paint-report.ts';
import type { Deps } from './routes/describe.ts';
import type { Report } from '../reports/model/report.ts';

/** A name that every file system and header takes. */
export function fileNameOf(text: string): string {
  return text.replace(/[^\w.-]+/g, '-');
}

/** A report as a PDF download on the mill's paper. */
export async function pdfResponse(deps: Deps, report: Report, fileName: string): Promise<Response> {
  const { paper } = await findMill(deps.db);
  const bytes = await paintReport({ report, page: paper, createdAt: deps.now() });
  return new Response(new Uint8Array(bytes), {
    headers: {
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="${fileNameOf(fileName)}.pdf"`,
      'cache-control': 'no-store',
    },
  });
}
