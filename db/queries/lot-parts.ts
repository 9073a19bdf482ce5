import { sql, type Kysely } from 'kysely';
import { NotFound, Refused } from './changed.ts';
import { requireNoCycle } from './lineage-cycle.ts';
import { lockedSource } from './material-sources.ts';
import { Dec } from '../../api/calc/money.ts';
import type { LotPart, NewLotPart } from '../../api/schemas/lot-part.ts';
import type { Database } from '../schema.ts';

/** Parts with the names of where they came from and where they went, oldest first. */
export function selectParts(db: Kysely<Database>) {
  return db
    .selectFrom('lotPart')
    .innerJoin('lot', 'lot.id', 'lotPart.lotId')
    .leftJoin('productionDay', 'productionDay.id', 'lotPart.productionDayId')
    .leftJoin('lot as from', 'from.id', 'lotPart.fromLotId')
    .leftJoin('product', 'product.id', 'lotPart.productId')
    .select([
      'lotPart.id',
      sql<NewLotPart['source']>`case when lot_part.production_day_id is not null then 'day'
        when lot_part.from_lot_id is not null then 'lot' else 'product' end`.as('source'),
      sql<string>`coalesce(lot_part.production_day_id, lot_part.from_lot_id, lot_part.product_id)`.as(
        'sourceId',
      ),
      sql<string>`coalesce(production_day.day::text, "from".code, product.code)`.as('sourceCode'),
      'lotPart.lotId',
      'lot.code as lotCode',
      sql<string>`trim_scale(lot_part.dry_mass_kg)`.as('dryMassKg'),
      'lotPart.takenOn',
    ])
    .orderBy('lotPart.takenOn')
    .orderBy('productionDay.day')
    .orderBy('lot.code')
    .orderBy('lotPart.id');
}

export async function partsOfLots(db: Kysely<Database>, lotIds: readonly string[]): Promise<LotPart[]> {
  return selectParts(db)
    .where('lotPart.lotId', '=', sql<string>`any(${lotIds}::uuid[])`)
    .execute();
}

export async function partsTakenFromLots(
  db: Kysely<Database>,
  lotIds: readonly string[],
): Promise<(LotPart & { source: 'lot' })[]> {
  const rows = await selectParts(db)
    .where('lotPart.fromLotId', '=', sql<string>`any(${lotIds}::uuid[])`)
    .execute();
  return rows.map((row) => ({ ...row, source: 'lot' as const }));
}

const COLUMN = { day: 'productionDayId', lot: 'fromLotId', product: 'productId' } as const;

/**
 * Takes masses out of days, lots and products into a lot. Refused, at the part's own fields, where a source has not so
 * much left, did not exist yet on the day, or was itself made from the lot.
 */
export async function insertParts(
  trx: Kysely<Database>,
  lot: { id: string; code: string; madeOn: string },
  parts: readonly NewLotPart[],
  pointerOf: (at: number) => string = (at) => `/parts/${at}`,
): Promise<void> {
  for (const [at, part] of parts.entries()) {
    const pointer = pointerOf(at);
    const source = await lockedSource(trx, part, `${pointer}/sourceId`);
    if (source.standsBecause !== null) throw new Refused(`${pointer}/sourceId`, source.standsBecause);
    if (part.takenOn < source.madeOn)
      throw new Refused(
        `${pointer}/takenOn`,
        `is ${part.takenOn}, before ${source.title} was there on ${source.madeOn}`,
      );
    if (part.takenOn > lot.madeOn)
      throw new Refused(
        `${pointer}/takenOn`,
        `is ${part.takenOn}, after lot ${lot.code} was made on ${lot.madeOn}`,
      );
    if (new Dec(part.dryMassKg).greaterThan(source.leftDryKg))
      throw new Refused(
        `${pointer}/dryMassKg`,
        `is ${part.dryMassKg} kg dry, but ${source.title} has only ${source.leftDryKg} kg left`,
      );
    await requireNoCycle(trx, lot, part, `${pointer}/sourceId`);
    await trx
      .insertInto('lotPart')
      .values({
        id: crypto.randomUUID(),
        lotId: lot.id,
        [COLUMN[part.source]]: part.sourceId,
        dryMassKg: part.dryMassKg,
        takenOn: part.takenOn,
      })
      .execute();
  }
}

/** The lot is locked, so that two changes of what it was made from come one after the other. */
export async function lockLot(
  trx: Kysely<Database>,
  id: string,
): Promise<{ id: string; code: string; madeOn: string }> {
  const lot = await trx
    .selectFrom('lot')
    .select(['id', 'code', 'madeOn'])
    .where('id', '=', id)
    .forUpdate()
    .executeTakeFirst();
  if (lot === undefined) throw new NotFound('lot');
  return lot;
}

/** Gives the mass back to where it came from. */
export async function deletePart(db: Kysely<Database>, lotId: string, id: string): Promise<void> {
  const { numDeletedRows } = await db
    .deleteFrom('lotPart')
    .where('id', '=', id)
    .where('lotId', '=', lotId)
    .executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('part of this lot');
}
