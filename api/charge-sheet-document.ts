import type { Kysely } from 'kysely';
import { batchNeeds } from './calc/books/batch-needs.ts';
import { chargeSheetOfRecords } from './calc/facts/charge-sheet-records.ts';
import { measuredMatte } from './calc/facts/measured-matte.ts';
import { recipeChanges } from './calc/facts/recipe-changes.ts';
import type { DecisionFacts } from './calc/facts/records.ts';
import { Dec, sumOf } from './calc/money.ts';
import { Problem } from './problem.ts';
import type { Batch } from './schemas/batch.ts';
import { findForecast } from '../db/queries/batch-plans.ts';
import { findBatch } from '../db/queries/batches.ts';
import { findLot } from '../db/queries/lots.ts';
import { findMill } from '../db/queries/mill.ts';
import { stocksBefore } from '../db/queries/month-states.ts';
import { stockLedgers, type LedgerBooks } from '../db/queries/stock-ledgers.ts';
import { listSupplies } from '../db/queries/supplies.ts';
import { listTrials } from '../db/queries/test-smelts.ts';
import { findTreatment } from '../db/queries/treatments.ts';
import { chargeSheetReport } from '../reports/model/charge-sheet-report.ts';
import type { Report } from '../reports/model/report.ts';
import type { Database } from '../db/schema.ts';

/** What is in stock on a day, as if the batch had taken nothing yet. */
async function stockBefore(
  db: Kysely<Database>,
  { batch, asOf, ...books }: LedgerBooks & { batch: Batch; asOf: string },
): Promise<Map<string, string>> {
  const usedOn = batch.finishedOn ?? batch.startedOn ?? batch.plannedOn;
  const { ledgers } = await stockLedgers(db, books, {
    from: await stocksBefore(db, books, usedOn < asOf ? usedOn : asOf),
    upTo: asOf,
  });
  const stock = new Map<string, string>();
  for (const [supplyId, { closing, entries, movements }] of ledgers) {
    if (closing === null) continue;
    const own = entries.filter(({ key }) => {
      const source = movements.get(key)?.source;
      return source?.kind === 'batch' && source.id === batch.id;
    });
    stock.set(supplyId, new Dec(closing.quantity).minus(sumOf(own.map((one) => one.quantity))).toFixed());
  }
  return stock;
}

/** The charge sheet of a batch as a report, by the records of a day: the same for the page and the print. */
export async function chargeSheetDocument(
  db: Kysely<Database>,
  batchId: string,
  asOf: string,
): Promise<Report> {
  const batch = await findBatch(db, batchId);
  if (batch.treatmentId === null)
    throw new Problem(
      'not-found',
      `Batch ${batch.code} is sold as concentrate: nothing is charged, so it has no charge sheet.`,
    );
  const mill = await findMill(db);
  const lot = await findLot(db, batch.lotId);
  const supplies = await listSupplies(db);
  const treatment = await findTreatment(db, batch.treatmentId);
  const { input, sheet, findings } = chargeSheetOfRecords({
    dryMassKg: batch.dryMassKg,
    lot,
    treatment,
    supplies,
    weighingStepG: mill.weighingStepG,
  });
  const { workedFrom } = await findForecast(db, batchId);
  const { facts } = workedFrom as { facts: DecisionFacts };
  const before = facts.treatments.find((one) => one.id === treatment.id);
  return chargeSheetReport({
    batch,
    lot,
    treatmentName: treatment.name,
    millName: mill.name,
    asOf,
    massUnit: mill.massUnit,
    currency: mill.currency,
    worked: input,
    sheet,
    findings: [...findings, ...(before === undefined ? [] : recipeChanges(before, treatment, supplies))],
    needs:
      sheet &&
      batchNeeds(sheet, {
        supplies,
        used: treatment,
        stock: await stockBefore(db, { supplies, millCurrency: mill.currency, batch, asOf }),
        on: asOf,
        currency: mill.currency,
      }),
    measuredMatte: measuredMatte(await listTrials(db, batch.lotId), treatment.id),
    isDemo: mill.isDemo,
  });
}
