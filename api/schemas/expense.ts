import { z } from 'zod';
import { currency, decimal, id, isoDate, text, version } from './fields.ts';

export const expenseKinds = [
  'rent',
  'repair',
  'permit',
  'insurance',
  'power',
  'transport',
  'assays',
  'fees',
  'wages',
  'wages-paid',
  'royalty-paid',
  'tax-paid',
  'other',
] as const;

const expenseFields = z.object({
  spentOn: isoDate,
  kind: z.enum(expenseKinds),
  /** Negative for money that came back. */
  amount: decimal({ min: -1_000_000_000, max: 1_000_000_000 }),
  currency,
  payee: text(120).default(''),
  document: text(120).default(''),
  paidOn: isoDate.nullable().default(null),
  remarks: text(2000).default(''),
});
export const newExpense = expenseFields;
export const expenseChange = expenseFields.extend({ version });
export const expense = expenseFields.extend({ id, version });
export type Expense = z.infer<typeof expense>;

/** How much of the mill's currency one of another was worth on a day. */
export const exchangeRate = z.object({
  currency,
  ratedOn: isoDate,
  rate: decimal({ above: 0, max: 1_000_000_000 }),
  source: text(120).default(''),
});
export type ExchangeRate = z.infer<typeof exchangeRate>;
