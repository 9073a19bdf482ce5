import type { Kysely, Selectable } from 'kysely';
import { NotFound } from './changed.ts';
import { inTransaction } from './in-transaction.ts';
import { numberOf } from './numbers.ts';
import type { LotSampling } from '../../api/schemas/lot.ts';
import type { Database, LotSamplingTable } from '../schema.ts';

export function samplingOf(row: Selectable<LotSamplingTable>): LotSampling {
  const gold = {
    goldFrac: numberOf(row.goldFrac),
    grainDensityGpml: numberOf(row.grainDensityGpml),
    silverWithGold: row.silverWithGold,
  };
  // The table's checks see to it that a model has its own fields.
  return row.model === 'coarse-gold'
    ? {
        model: 'coarse-gold',
        grainSizeMm: numberOf(row.grainSizeMm ?? ''),
        grainShape: row.grainShape ?? 'nugget',
        ...gold,
      }
    : {
        model: 'gy',
        topSizeMm: numberOf(row.topSizeMm ?? ''),
        liberationSizeMm: numberOf(row.liberationSizeMm ?? ''),
        shapeFactor: numberOf(row.shapeFactor ?? ''),
        liberationExponent: numberOf(row.liberationExponent ?? ''),
        ...gold,
      };
}

const noFields = {
  grainSizeMm: null,
  grainShape: null,
  topSizeMm: null,
  liberationSizeMm: null,
  shapeFactor: null,
  liberationExponent: null,
};

/** Says how the gold sits in a lot, in place of what was said before. */
export async function putLotSampling(
  db: Kysely<Database>,
  lotId: string,
  sampling: LotSampling,
): Promise<void> {
  await inTransaction(db, async (trx) => {
    const lot = await trx.selectFrom('lot').select('id').where('id', '=', lotId).executeTakeFirst();
    if (lot === undefined) throw new NotFound('lot');
    await trx.deleteFrom('lotSampling').where('lotId', '=', lotId).execute();
    await trx
      .insertInto('lotSampling')
      .values({ lotId, ...noFields, ...sampling })
      .execute();
  });
}

export async function deleteLotSampling(db: Kysely<Database>, lotId: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('lotSampling').where('lotId', '=', lotId).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('sampling record of this lot');
}
