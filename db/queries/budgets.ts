import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { monthsBetween } from '../../api/calc/books/furnace-capacity.ts';
import type { Budget, budgetChange } from '../../api/schemas/budget.ts';
import type { Database } from '../schema.ts';
import { ChangedSince, Refused } from './changed.ts';
import { inTransaction } from './in-transaction.ts';
import { findSeason } from './mill.ts';

export type KeptBudget = Omit<Budget, 'capacity'>;

/** What was planned for a season, with all its months; version 0 and nothing in them where nobody has planned yet. */
export async function findBudget(db: Kysely<Database>, seasonId: string): Promise<KeptBudget> {
  const season = await findSeason(db, seasonId);
  const row = await db.selectFrom('budget').selectAll().where('seasonId', '=', seasonId).executeTakeFirst();
  const months = await db
    .selectFrom('budgetMonth')
    .select(['month', 'feedDryT', 'concentrateDryKg', 'treatedDryKg', 'fixedCosts'])
    .where('seasonId', '=', seasonId)
    .orderBy('month')
    .execute();
  const kept = new Map(months.map((one) => [one.month, one]));
  return {
    seasonId,
    seasonName: season.name,
    furnaceHoursPerDay: row?.furnaceHoursPerDay ?? null,
    remarks: row?.remarks ?? '',
    version: row?.version ?? 0,
    months: monthsBetween(season.startsOn, season.endsOn).map(
      (month) =>
        kept.get(month) ?? {
          month,
          feedDryT: '0',
          concentrateDryKg: '0',
          treatedDryKg: '0',
          fixedCosts: '0',
        },
    ),
  };
}

export async function putBudget(
  db: Kysely<Database>,
  seasonId: string,
  fields: z.infer<typeof budgetChange>,
): Promise<KeptBudget> {
  return inTransaction(db, async (trx) => {
    const season = await findSeason(trx, seasonId);
    const ofSeason = monthsBetween(season.startsOn, season.endsOn);
    const stray = fields.months.findIndex(({ month }) => !ofSeason.includes(month));
    if (stray >= 0)
      throw new Refused(
        `/months/${stray}/month`,
        `is ${fields.months[stray]?.month ?? ''}, outside the season ${season.name} (${season.startsOn} to ${season.endsOn})`,
      );
    const { months, version, ...row } = fields;
    const kept = await trx
      .insertInto('budget')
      .values({ seasonId, ...row, version: version + 1 })
      .onConflict((conflict) =>
        conflict
          .column('seasonId')
          .doUpdateSet({ ...row, version: version + 1 })
          .where('budget.version', '=', version),
      )
      .returning('seasonId')
      .executeTakeFirst();
    if (kept === undefined) throw new ChangedSince('The budget');
    await trx.deleteFrom('budgetMonth').where('seasonId', '=', seasonId).execute();
    if (months.length > 0)
      await trx
        .insertInto('budgetMonth')
        .values(months.map((month) => ({ seasonId, ...month })))
        .execute();
    return findBudget(trx, seasonId);
  });
}
