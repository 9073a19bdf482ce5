import type { Kysely } from 'kysely';
import { NotFound, Refused } from './changed.ts';
import { inTransaction } from './in-transaction.ts';
import { findStatement } from './statements.ts';
import type { NewStatementPayment, StatementPayment } from '../../api/schemas/statement-payment.ts';
import type { Database } from '../schema.ts';

const columns = ['id', 'statementId', 'paidOn', 'amount', 'currency', 'countsAs', 'reference'] as const;

/** What was paid on a statement, oldest first. */
export async function listPayments(db: Kysely<Database>, statementId: string): Promise<StatementPayment[]> {
  await findStatement(db, statementId);
  return db
    .selectFrom('statementPayment')
    .select(columns)
    .where('statementId', '=', statementId)
    .orderBy('paidOn')
    .orderBy('enteredAt')
    .execute();
}

/** Nothing can be paid on a draft, and what is paid in another currency must say what it settles. */
export async function insertPayment(
  db: Kysely<Database>,
  statementId: string,
  { paidOn, amount, currency, countsAs, reference }: NewStatementPayment,
): Promise<StatementPayment> {
  return inTransaction(db, async (trx) => {
    const statement = await findStatement(trx, statementId);
    if (statement.status === 'draft')
      throw new Refused('/statementId', 'is a draft: issue it before a payment is entered for it');
    if (currency !== statement.currency && countsAs === null)
      throw new Refused(
        '/countsAs',
        `is missing: say how much of the statement, in ${statement.currency}, a payment in ${currency} settles`,
      );
    return trx
      .insertInto('statementPayment')
      .values({
        id: crypto.randomUUID(),
        statementId,
        paidOn,
        amount,
        currency,
        countsAs: currency === statement.currency ? amount : (countsAs ?? amount),
        reference,
      })
      .returning(columns)
      .executeTakeFirstOrThrow();
  });
}

export async function deletePayment(
  db: Kysely<Database>,
  statementId: string,
  paymentId: string,
): Promise<void> {
  const { numDeletedRows } = await db
    .deleteFrom('statementPayment')
    .where('id', '=', paymentId)
    .where('statementId', '=', statementId)
    .executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('payment');
}
