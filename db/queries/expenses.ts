import type { Kysely } from 'kysely';
import type { z } from 'zod';
import type { Expense, expenseChange, newExpense } from '../../api/schemas/expense.ts';
import type { Database } from '../schema.ts';
import { NotFound } from './changed.ts';
import { inTransaction } from './in-transaction.ts';
import { pageOf, type PageAsked, type Paged } from './page.ts';
import { lockVersion } from './versioned.ts';

function selectExpenses(db: Kysely<Database>) {
  return db
    .selectFrom('expense')
    .select([
      'id',
      'spentOn',
      'kind',
      'amount',
      'currency',
      'payee',
      'document',
      'paidOn',
      'remarks',
      'version',
    ]);
}

interface ExpenseFilter {
  from?: string | undefined;
  to?: string | undefined;
}

function selectSome(db: Kysely<Database>, filter: ExpenseFilter) {
  let query = selectExpenses(db).orderBy('spentOn').orderBy('enteredAt').orderBy('id');
  if (filter.from !== undefined) query = query.where('spentOn', '>=', filter.from);
  if (filter.to !== undefined) query = query.where('spentOn', '<=', filter.to);
  return query;
}

/** All of a span of days, oldest first. */
export async function listExpenses(db: Kysely<Database>, filter: ExpenseFilter): Promise<Expense[]> {
  return selectSome(db, filter).execute();
}

/** Expenses by the day they were spent, a page of them. */
export async function pageOfExpenses(
  db: Kysely<Database>,
  filter: ExpenseFilter,
  page: PageAsked,
): Promise<Paged<Expense>> {
  const by = ['expense.spent_on', 'expense.entered_at', 'expense.id'];
  return pageOf(db, selectSome(db, filter), { by, from: 'expense' }, page);
}

async function findExpense(db: Kysely<Database>, id: string): Promise<Expense> {
  const row = await selectExpenses(db).where('id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('expense');
  return row;
}

export async function insertExpense(
  db: Kysely<Database>,
  fields: z.infer<typeof newExpense>,
): Promise<Expense> {
  const id = crypto.randomUUID();
  await db
    .insertInto('expense')
    .values({ id, ...fields })
    .execute();
  return findExpense(db, id);
}

export async function updateExpense(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof expenseChange>,
): Promise<Expense> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = fields;
    await lockVersion(trx, 'expense', 'expense', id, version);
    await trx
      .updateTable('expense')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    return findExpense(trx, id);
  });
}

export async function deleteExpense(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('expense').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('expense');
}
