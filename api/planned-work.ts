import type { Kysely } from 'kysely';
import { batchNeeds } from './calc/books/batch-needs.ts';
import type { PlannedNeed } from './calc/books/stock-outlook.ts';
import { chargeSheetOfRecords } from './calc/facts/charge-sheet-records.ts';
import { Dec } from './calc/money.ts';
import type { ChargeSheet } from './calc/smelting/charge-sheet.ts';
import type { Batch } from './schemas/batch.ts';
import type { Mill } from './schemas/mill.ts';
import type { Supply } from './schemas/supply.ts';
import type { Treatment } from './schemas/treatment.ts';
import { findLots } from '../db/queries/lots.ts';
import { findMill } from '../db/queries/mill.ts';
import { listSupplies } from '../db/queries/supplies.ts';
import { leadByTreatment } from '../db/queries/treatment-leads.ts';
import { listTreatments } from '../db/queries/treatments.ts';
import type { Database } from '../db/schema.ts';

export interface PlannedSheet {
  batch: Batch;
  treatment: Treatment;
  leadSupplyId: string | null;
  sheet: ChargeSheet;
}

/** The books that charge sheets are worked from. */
export interface SheetBooks {
  mill: Mill;
  supplies: Supply[];
}

export async function sheetBooks(db: Kysely<Database>): Promise<SheetBooks> {
  return { mill: await findMill(db), supplies: await listSupplies(db) };
}

/** The charge sheets of batches by the treatments as they stand; those sold as concentrate have none. */
export async function plannedSheets(
  db: Kysely<Database>,
  { mill, supplies }: SheetBooks,
  batches: readonly Batch[],
): Promise<PlannedSheet[]> {
  if (batches.every(({ treatmentId }) => treatmentId === null)) return [];
  const treatments = new Map((await listTreatments(db)).map((one) => [one.id, one]));
  const lots = new Map(
    (
      await findLots(
        db,
        batches.map(({ lotId }) => lotId),
      )
    ).map((one) => [one.id, one]),
  );
  const leads = await leadByTreatment(db, supplies);
  return batches.flatMap((batch) => {
    const treatment = treatments.get(batch.treatmentId ?? '');
    const lot = lots.get(batch.lotId);
    if (treatment === undefined || lot === undefined) return [];
    const { sheet } = chargeSheetOfRecords({
      dryMassKg: batch.dryMassKg,
      lot,
      treatment,
      supplies,
      weighingStepG: mill.weighingStepG,
    });
    return sheet === null ? [] : [{ batch, treatment, sheet, leadSupplyId: leads.get(treatment.id) ?? null }];
  });
}

/** What planned and running batches still take of each supply: by the charge sheet, less what was entered as used. */
export function plannedNeeds(
  sheets: readonly PlannedSheet[],
  { supplies, mill }: SheetBooks,
  on: string,
): PlannedNeed[] {
  const units = new Map<string, string>(supplies.map(({ id, unit }) => [id, unit]));
  return sheets.flatMap(({ batch, treatment, sheet, leadSupplyId }) => {
    const usedOf = (supplyId: string): string =>
      supplyId === leadSupplyId
        ? (batch.leadInKg ?? '0')
        : (batch.consumption.find((one) => one.supplyId === supplyId)?.quantity ?? '0');
    const { lines } = batchNeeds(sheet, {
      supplies,
      used: treatment,
      stock: new Map(),
      on,
      currency: mill.currency,
    });
    return lines.flatMap(({ supplyId, quantity, unit }): PlannedNeed[] => {
      if (units.get(supplyId) !== unit) return [];
      const left = Dec.max(new Dec(quantity).minus(usedOf(supplyId)), 0);
      if (left.isZero()) return [];
      const back = supplyId === leadSupplyId && batch.leadBackKg === null ? sheet.lead.backKg.low : 0;
      return [
        {
          batchCode: batch.code,
          on: batch.startedOn ?? batch.plannedOn,
          supplyId,
          quantity: left.toFixed(),
          backQuantity: new Dec(back.toFixed(3)).toFixed(),
        },
      ];
    });
  });
}
