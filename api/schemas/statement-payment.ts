import { z } from 'zod';
import { currency, decimal, id, isoDate, text } from './fields.ts';

const paid = decimal({ above: 0, max: 999_999_999_999 });

/** A payment of a statement's total, whichever way that goes; always above zero. */
export const newStatementPayment = z.object({
  paidOn: isoDate,
  amount: paid,
  currency,
  /** What it settles in the statement's currency; null where it is paid in that. */
  countsAs: paid.nullable().default(null),
  reference: text(200).default(''),
});
export type NewStatementPayment = z.infer<typeof newStatementPayment>;

export const statementPayment = newStatementPayment.extend({ id, statementId: id, countsAs: paid });
export type StatementPayment = z.infer<typeof statementPayment>;
