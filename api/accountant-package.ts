import { setImmediate as turn } from 'node:timers/promises';
import { accountantInput, type Period } from './accountant-books.ts';
import { logError } from './log.ts';
import { fileNameOf } from './pdf-response.ts';
import { Problem } from './problem.ts';
import type { Deps } from './routes/describe.ts';
import { statementPdfs } from './statements-zip.ts';
import { zipStream, type ZipEntry } from './zip-stream.ts';
import { listStatements } from '../db/queries/statements.ts';
import { accountantReadMe, accountantTableCsv } from '../reports/csv/accountant-tables.ts';
import { accountantReport, type AccountantReport } from '../reports/model/accountant-report.ts';
import { accountantWorkbook } from '../reports/xlsx/accountant-workbook.ts';
import type { StatementSummary } from './schemas/statement.ts';

/** The tables of a period, as they are today. */
export async function accountantTables({ db, now }: Deps, period: Period): Promise<AccountantReport> {
  const madeOn = now().toISOString().slice(0, 10);
  return accountantReport(await accountantInput(db, { ...period, madeOn }));
}

async function* packageFiles(
  deps: Deps,
  report: AccountantReport,
  issued: readonly StatementSummary[],
): AsyncGenerator<ZipEntry, void> {
  const day = deps.now().toISOString().slice(0, 10);
  const text = (name: string, content: string): ZipEntry => ({
    name,
    bytes: new TextEncoder().encode(content),
    day,
  });
  yield text('README.txt', accountantReadMe(report));
  for (const table of report.tables) {
    yield text(`csv/${table.file}.csv`, accountantTableCsv(table));
    // Others are answered between two files.
    await turn();
  }
  yield { name: 'accountant.xlsx', bytes: await accountantWorkbook(report), day };
  for await (const pdf of statementPdfs(deps, issued)) yield { ...pdf, name: `statements/${pdf.name}` };
}

/**
 * The accountant's package of a period: workbook, the same as CSV, all statements as PDFs, and what stands in which
 * column; made while it is sent. What cannot be booked is said before anything is sent.
 */
export async function accountantPackage(deps: Deps, period: Period, requestId: string): Promise<Response> {
  if (period.to < period.from)
    throw new Problem('validation', 'The last day lies before the first.', {
      errors: [{ pointer: '/to', detail: `${period.to} lies before ${period.from}.` }],
    });
  const report = await accountantTables(deps, period);
  const issued = (await listStatements(deps.db, { firstDay: period.from, lastDay: period.to })).filter(
    ({ status }) => status === 'issued',
  );
  const archive = zipStream(packageFiles(deps, report, issued), (error) =>
    logError('accountant-package-failed', { requestId, error }),
  );
  return new Response(archive, {
    headers: {
      'content-type': 'application/zip',
      'content-disposition': `attachment; filename="${fileNameOf(`accountant-${period.from}-${period.to}`)}.zip"`,
      'x-file-count': String(2 + report.tables.length + issued.length),
      'cache-control': 'no-store',
    },
  });
}
