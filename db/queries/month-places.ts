import { sql, type Kysely } from 'kysely';
import { workAndKeep } from './kept.ts';
import { monthOf } from '../../api/calc/calendar.ts';
import type { Database } from '../schema.ts';

/**
 * What may lie at the mill or with a buyer on a day: what was there at the end of a month before, and what came
 * since. Null: anything.
 */
export interface Candidates {
  lots: readonly string[];
  batches: readonly string[];
  products: readonly string[];
  /** The last day of the month whose end it goes on from. */
  since: string;
}

/** Ids of what lies at the mill or with a buyer. */
export type Places = Record<'lots' | 'batches' | 'products', string[]>;

/** What may be there on a day, by the end of the month before it, which is worked and kept where it is not. */
export async function candidatesOn(
  db: Kysely<Database>,
  day: string,
  placesOn: (day: string, candidates: Candidates | null) => Promise<Places>,
): Promise<Candidates> {
  const before = monthOf(day, -1);
  const kept = await newestKept(db, before.from);
  if (kept?.since === before.to) return kept;
  const { figures: places } = await workAndKeep(
    db,
    async () => placesOn(before.to, await newestKept(db, before.from)),
    async (trx, worked) => {
      await trx
        .insertInto('monthPlace')
        .values({ month: before.from, ...worked })
        .onConflict((conflict) => conflict.column('month').doNothing())
        .execute();
    },
  );
  return { ...places, since: before.to };
}

async function newestKept(db: Kysely<Database>, upTo: string): Promise<Candidates | null> {
  const row = await db
    .selectFrom('monthPlace')
    .selectAll()
    .where('month', '<=', upTo)
    .orderBy('month', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row === undefined ? null : { ...row, since: monthOf(row.month).to };
}

/** Lots that may lie there: those of the candidates and those made since. */
export const lotsAmong = (candidates: Candidates | null) =>
  candidates === null
    ? sql<boolean>`true`
    : sql<boolean>`(lot.made_on > ${candidates.since}::date or lot.id = any(${candidates.lots}::uuid[]))`;

/** Batches that may be in work: those of the candidates and those of a later day. */
export const batchesAmong = (candidates: Candidates | null) =>
  candidates === null
    ? sql<boolean>`true`
    : sql<boolean>`(batch.started_on > ${candidates.since}::date or batch.finished_on > ${candidates.since}::date
        or batch.planned_on > ${candidates.since}::date or batch.id = any(${candidates.batches}::uuid[]))`;

/** Products that may lie there: those of the candidates and those made since. */
export const productsAmong = (candidates: Candidates | null) =>
  candidates === null
    ? sql<boolean>`true`
    : sql<boolean>`(product.made_on > ${candidates.since}::date or product.id = any(${candidates.products}::uuid[]))`;
