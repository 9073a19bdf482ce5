import { accountantPackage } from './accountant-package.ts';
import { logError } from './log.ts';
import { fileNameOf } from './pdf-response.ts';
import { Problem } from './problem.ts';
import type { Deps } from './routes/describe.ts';
import { accountantRows } from './season-document.ts';
import { statementPdfs } from './statements-zip.ts';
import { zipStream } from './zip-stream.ts';
import { findSeason } from '../db/queries/mill.ts';
import { listStatements } from '../db/queries/statements.ts';
import { accountantCsv } from '../reports/csv/accountant-csv.ts';

/** The sales and costs behind a season, one row an amount, for the accountant. */
export async function accountantCsvFile({ db }: Deps, seasonId: string): Promise<Response> {
  const { name } = await findSeason(db, seasonId);
  return new Response(accountantCsv(await accountantRows(db, seasonId), { byteOrderMark: true }), {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="${fileNameOf(`accountant-${name}`)}.csv"`,
      'cache-control': 'no-store',
    },
  });
}

/** The accountant's package of a whole season. */
export async function seasonPackage(deps: Deps, seasonId: string, requestId: string): Promise<Response> {
  const { startsOn, endsOn } = await findSeason(deps.db, seasonId);
  return accountantPackage(deps, { from: startsOn, to: endsOn }, requestId);
}

/** All issued statements of a season as PDFs, made while they are sent. */
export async function statementsZipFile(deps: Deps, seasonId: string, requestId: string): Promise<Response> {
  const { name } = await findSeason(deps.db, seasonId);
  const issued = (await listStatements(deps.db, { seasonId })).filter(({ status }) => status === 'issued');
  if (issued.length === 0)
    throw new Problem('not-found', `No statement of season ${name} has been issued yet.`);
  const archive = zipStream(statementPdfs(deps, issued), (error) =>
    logError('statements-zip-failed', { requestId, error }),
  );
  return new Response(archive, {
    headers: {
      'content-type': 'application/zip',
      'content-disposition': `attachment; filename="${fileNameOf(`statements-${name}`)}.zip"`,
      'x-statement-count': String(issued.length),
      'cache-control': 'no-store',
    },
  });
}
