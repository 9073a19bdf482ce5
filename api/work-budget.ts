import type { Kysely } from 'kysely';
import { furnaceCapacity } from './calc/books/furnace-capacity.ts';
import { plannedSheets, sheetBooks } from './planned-work.ts';
import type { Budget } from './schemas/budget.ts';
import { listBatches } from '../db/queries/batches.ts';
import type { KeptBudget } from '../db/queries/budgets.ts';
import { findSeason } from '../db/queries/mill.ts';
import type { Database } from '../db/schema.ts';

/** A budget with the furnace hours that the season's batches take: as worked where they were entered, else by the charge sheet. */
export async function withCapacity(db: Kysely<Database>, kept: KeptBudget): Promise<Budget> {
  const season = await findSeason(db, kept.seasonId);
  const batches = (
    await listBatches(db, { seasonId: kept.seasonId, statuses: ['planned', 'running', 'done'] })
  ).filter(({ treatmentId }) => treatmentId !== null);
  const unworked = batches.filter(({ furnaceHours }) => furnaceHours === null);
  const sheets = new Map(
    (await plannedSheets(db, await sheetBooks(db), unworked)).map(({ batch, sheet }) => [batch.id, sheet]),
  );
  return {
    ...kept,
    capacity: furnaceCapacity({
      season,
      furnaceHoursPerDay: kept.furnaceHoursPerDay,
      batches: batches.map(({ id, code, startedOn, plannedOn, furnaceHours, dryMassKg }) => ({
        code,
        on: startedOn ?? plannedOn,
        furnaceHours: furnaceHours ?? sheets.get(id)?.furnaceHours ?? '0',
        dryMassKg,
      })),
    }),
  };
}
