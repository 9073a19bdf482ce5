import { setImmediate as turn } from 'node:timers/promises';
import type { Deps } from './routes/describe.ts';
import type { StatementSummary } from './schemas/statement.ts';
import { fileNameOf } from './pdf-response.ts';
import { statementDocuments } from './statement-document.ts';
import type { ZipEntry } from './zip-stream.ts';
import { findMill } from '../db/queries/mill.ts';
import { paintReport } from '../reports/pdf/paint-report.ts';

/** So many are read and held together. */
const READ_TOGETHER = 20;

/** The PDFs of issued statements in the order of their numbers, each made when it is asked for. */
export async function* statementPdfs(
  { db, now }: Deps,
  issued: readonly StatementSummary[],
): AsyncGenerator<ZipEntry, void> {
  const { paper } = await findMill(db);
  for (let from = 0; from < issued.length; from += READ_TOGETHER) {
    const some = issued.slice(from, from + READ_TOGETHER);
    const reports = await statementDocuments(
      db,
      some.map(({ id }) => id),
    );
    for (const { id, number, stage, issuedOn } of some) {
      const report = reports.get(id);
      if (number === null || issuedOn === null || report === undefined) continue;
      reports.delete(id);
      yield {
        name: `${fileNameOf(`${number}-${stage}`)}.pdf`,
        bytes: await paintReport({ report, page: paper, createdAt: now() }),
        day: issuedOn,
      };
      // Others are answered between two statements.
      await turn();
    }
  }
}
