import { sql, type Kysely } from 'kysely';
import { NotFound, Refused } from './changed.ts';
import { inTransaction } from './in-transaction.ts';
import { findProductSource, lockedSource } from './material-sources.ts';
import { pageOf, type PageAsked, type Paged } from './page.ts';
import { Dec } from '../../api/calc/money.ts';
import type { newWriteOff, WriteOff } from '../../api/schemas/write-off.ts';
import type { z } from 'zod';
import type { Database } from '../schema.ts';

function selectWriteOffs(db: Kysely<Database>) {
  return db
    .selectFrom('writeOff')
    .leftJoin('lot', 'lot.id', 'writeOff.lotId')
    .leftJoin('product', 'product.id', 'writeOff.productId')
    .selectAll('writeOff')
    .select(sql<string>`coalesce(lot.code, product.code)`.as('code'))
    .orderBy('writeOff.writtenOffOn')
    .orderBy('writeOff.enteredAt');
}

interface WriteOffFilter {
  productId?: string | undefined;
  from?: string | undefined;
  to?: string | undefined;
}

function selectSome(db: Kysely<Database>, filter: WriteOffFilter) {
  let query = selectWriteOffs(db);
  if (filter.productId !== undefined) query = query.where('writeOff.productId', '=', filter.productId);
  if (filter.from !== undefined) query = query.where('writtenOffOn', '>=', filter.from);
  if (filter.to !== undefined) query = query.where('writtenOffOn', '<=', filter.to);
  return query;
}

/** All that was written off in a span of days, oldest first. */
export async function listWriteOffs(db: Kysely<Database>, filter: WriteOffFilter): Promise<WriteOff[]> {
  return selectSome(db, filter).execute();
}

/** What was written off, a page of it. */
export async function pageOfWriteOffs(
  db: Kysely<Database>,
  filter: WriteOffFilter,
  page: PageAsked,
): Promise<Paged<WriteOff>> {
  const by = ['write_off.written_off_on', 'write_off.entered_at', 'write_off.id'];
  return pageOf(db, selectSome(db, filter), { by, from: 'write_off' }, page);
}

export async function writeOffsOfLots(db: Kysely<Database>, lotIds: readonly string[]): Promise<WriteOff[]> {
  return selectWriteOffs(db)
    .where('writeOff.lotId', '=', sql<string>`any(${lotIds}::uuid[])`)
    .execute();
}

/** Never more than is left. What has gone out can still be lost; what is settled for good cannot. */
export async function insertWriteOff(
  db: Kysely<Database>,
  fields: z.output<typeof newWriteOff>,
): Promise<WriteOff> {
  return inTransaction(db, async (trx) => {
    const isLot = fields.lotId !== null;
    const pointer = isLot ? '/lotId' : '/productId';
    const sourceId = fields.lotId ?? fields.productId ?? '';
    const source = await lockedSource(trx, { source: isLot ? 'lot' : 'product', sourceId }, pointer);
    const left = isLot ? source.leftDryKg : ((await findProductSource(trx, sourceId))?.leftKg ?? '0');
    if (!isLot) await requireNotSettled(trx, sourceId);
    if (fields.writtenOffOn < source.madeOn)
      throw new Refused(
        '/writtenOffOn',
        `is ${fields.writtenOffOn}, before ${source.title} was there on ${source.madeOn}`,
      );
    if (new Dec(fields.massKg).greaterThan(left))
      throw new Refused('/massKg', `is ${fields.massKg} kg, but ${source.title} has only ${left} kg left`);
    const id = crypto.randomUUID();
    await trx
      .insertInto('writeOff')
      .values({ id, ...fields })
      .execute();
    return selectWriteOffs(trx).where('writeOff.id', '=', id).executeTakeFirstOrThrow();
  });
}

async function requireNotSettled(trx: Kysely<Database>, productId: string): Promise<void> {
  const settled = await trx
    .selectFrom('statement')
    .select('number')
    .where('productId', '=', productId)
    .where('status', '=', 'issued')
    .where('stage', 'in', ['final', 'adjustment'])
    .executeTakeFirst();
  if (settled !== undefined)
    throw new Refused('/productId', `is settled for good by statement ${settled.number}`);
}

/** Takes a write-off back. */
export async function deleteWriteOff(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('writeOff').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('write-off');
}
