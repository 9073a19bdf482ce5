import { findMill } from '../db/queries/mill.ts';
import { paintReport } from '../reports/pdf/paint-report.ts';
import type { Deps } from './routes/describe.ts';
import type { Report } from '../reports/model/report.ts';

/** A name that every file system and header takes. */
export function fileNameOf(text: string): string {
  return text.replace(/[^\w.-]+/g, '-').replace(/^-+|-+$/g, '');
}

/** A report as a PDF download, on the mill's paper unless another is asked for. */
export async function pdfResponse(
  deps: Deps,
  report: Report,
  fileName: string,
  paper?: 'A4' | 'Letter',
): Promise<Response> {
  const page = paper ?? (await findMill(deps.db)).paper;
  const bytes = await paintReport({ report, page, createdAt: deps.now() });
  return new Response(new Uint8Array(bytes), {
    headers: {
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="${fileNameOf(fileName)}.pdf"`,
      'cache-control': 'no-store',
    },
  });
}
