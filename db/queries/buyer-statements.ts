import type { Kysely, Selectable } from 'kysely';
import { NotFound, Refused } from './changed.ts';
import { groupBy } from './group-by.ts';
import { inTransaction } from './in-transaction.ts';
import { lockVersion } from './versioned.ts';
import type {
  BuyerStatement,
  BuyerStatementChange,
  NewBuyerStatement,
} from '../../api/schemas/buyer-statement.ts';
import type { BuyerStatementTable, Database } from '../schema.ts';

async function withLines(
  db: Kysely<Database>,
  records: Selectable<BuyerStatementTable>[],
): Promise<BuyerStatement[]> {
  const ids = records.map(({ id }) => id);
  const rows =
    ids.length === 0
      ? []
      : await db
          .selectFrom('buyerStatementLine')
          .selectAll()
          .where('buyerStatementId', 'in', ids)
          .orderBy('place')
          .execute();
  const lines = groupBy(rows, (row) => row.buyerStatementId);
  return records.map(({ enteredAt: _enteredAt, ...record }) => ({
    ...record,
    lines: (lines.get(record.id) ?? []).map(({ label, lineId, quantity, amount }) => ({
      label,
      lineId,
      quantity,
      amount,
    })),
  }));
}

/** What the other party sent in answer to one statement of ours, newest first. */
export async function listBuyerStatements(
  db: Kysely<Database>,
  statementId: string,
): Promise<BuyerStatement[]> {
  const records = await db
    .selectFrom('buyerStatement')
    .selectAll()
    .where('statementId', '=', statementId)
    .orderBy('datedOn', 'desc')
    .orderBy('enteredAt', 'desc')
    .execute();
  return withLines(db, records);
}

export async function findBuyerStatement(db: Kysely<Database>, id: string): Promise<BuyerStatement> {
  const records = await db.selectFrom('buyerStatement').selectAll().where('id', '=', id).execute();
  const [found] = await withLines(db, records);
  if (found === undefined) throw new NotFound("buyer's statement");
  return found;
}

async function requireFreeNumber(
  trx: Kysely<Database>,
  { statementId, number, id }: { statementId: string; number: string; id: string },
): Promise<void> {
  const taken = await trx
    .selectFrom('buyerStatement')
    .select('id')
    .where('statementId', '=', statementId)
    .where('number', '=', number)
    .where('id', '!=', id)
    .executeTakeFirst();
  if (taken !== undefined)
    throw new Refused('/number', `${number} has been entered for this statement of ours already`);
}

async function insertLines(
  trx: Kysely<Database>,
  buyerStatementId: string,
  lines: NewBuyerStatement['lines'],
): Promise<void> {
  if (lines.length === 0) return;
  await trx
    .insertInto('buyerStatementLine')
    .values(lines.map((line, place) => ({ buyerStatementId, place, ...line })))
    .execute();
}

export async function insertBuyerStatement(
  db: Kysely<Database>,
  { lines, ...row }: NewBuyerStatement,
): Promise<BuyerStatement> {
  return inTransaction(db, async (trx) => {
    const id = crypto.randomUUID();
    await requireFreeNumber(trx, { ...row, id });
    await trx
      .insertInto('buyerStatement')
      .values({ id, ...row })
      .execute();
    await insertLines(trx, id, lines);
    return findBuyerStatement(trx, id);
  });
}

export async function updateBuyerStatement(
  db: Kysely<Database>,
  id: string,
  { lines, version, ...row }: BuyerStatementChange,
): Promise<BuyerStatement> {
  return inTransaction(db, async (trx) => {
    await lockVersion(trx, 'buyerStatement', "buyer's statement", id, version);
    const { statementId } = await findBuyerStatement(trx, id);
    await requireFreeNumber(trx, { statementId, number: row.number, id });
    await trx
      .updateTable('buyerStatement')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    await trx.deleteFrom('buyerStatementLine').where('buyerStatementId', '=', id).execute();
    await insertLines(trx, id, lines);
    return findBuyerStatement(trx, id);
  });
}

export async function deleteBuyerStatement(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('buyerStatement').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound("buyer's statement");
}
