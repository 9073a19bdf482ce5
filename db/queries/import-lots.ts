import { sql, type Kysely } from 'kysely';
import type { z } from 'zod';
import { groupBy } from './group-by.ts';
import type { newLot } from '../../api/schemas/lot.ts';
import type { Database } from '../schema.ts';

type LotEntry = z.output<typeof newLot>;

/** The lots that are recorded under these codes, as they would be entered. */
export async function recordedLots(db: Kysely<Database>, codes: readonly string[]): Promise<LotEntry[]> {
  const lots = await db
    .selectFrom('lot')
    .select(['id', 'seasonId', 'code', 'description', 'madeOn', 'wetMassKg', 'moistureFrac', 'remarks'])
    .where('code', '=', sql<string>`any(${codes}::text[])`)
    .execute();
  const minerals = groupBy(
    await db
      .selectFrom('lotMineral')
      .selectAll()
      .where('lotId', '=', sql<string>`any(${lots.map(({ id }) => id)}::uuid[])`)
      .execute(),
    ({ lotId }) => lotId,
  );
  return lots.map(({ id, ...lot }) => ({
    ...lot,
    minerals: (minerals.get(id) ?? []).map(({ mineral, massFrac }) => ({
      mineral: mineral as LotEntry['minerals'][number]['mineral'],
      massFrac,
    })),
  }));
}

export async function insertLots(trx: Kysely<Database>, lots: readonly LotEntry[]): Promise<void> {
  const rows = lots.map(({ minerals, ...lot }) => ({ lot: { id: crypto.randomUUID(), ...lot }, minerals }));
  await trx
    .insertInto('lot')
    .values(rows.map(({ lot }) => lot))
    .execute();
  const minerals = rows.flatMap((row) => row.minerals.map((one) => ({ lotId: row.lot.id, ...one })));
  if (minerals.length > 0) await trx.insertInto('lotMineral').values(minerals).execute();
}
