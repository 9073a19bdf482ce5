import { paymentState } from '../../../api/calc/settlement/payment-state.ts';
import type { StatementSummary } from '../../../api/schemas/statement.ts';
import type { Formatter } from '../../lib/format.ts';

/** How a statement stands with its payments, in a few words: `open, due 5 May 2031`. */
export function paymentWords(
  statement: Pick<StatementSummary, 'status' | 'total' | 'paid' | 'dueOn' | 'currency'>,
  format: Formatter,
  today: string,
): string {
  if (statement.status === 'draft') return '';
  const { state, open } = paymentState({ ...statement, on: today });
  const money = (amount: string) => format.money(amount, statement.currency);
  if (state === 'nothing-owed') return 'nothing owed';
  if (state === 'paid') return 'paid';
  if (state === 'overpaid') return `overpaid by ${money(open.replace('-', ''))}`;
  const part = Number(statement.paid) === 0 ? state : `${state}: ${money(open)} of it`;
  return statement.dueOn === null ? part : `${part}, due ${format.date(statement.dueOn)}`;
}
