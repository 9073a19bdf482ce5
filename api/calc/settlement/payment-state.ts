import { Dec } from '../money.ts';

/** Where a statement stands with its payments on a day. */
export interface PaymentState {
  state: 'nothing-owed' | 'open' | 'overdue' | 'paid' | 'overpaid';
  /** What is still to be paid, whichever way it goes; below zero where more was paid. */
  open: string;
}

/** Open = |total| − payments; overdue from the day after the due day. Common practice. */
export function paymentState({
  total,
  paid,
  dueOn,
  on,
}: {
  total: string;
  paid: string;
  dueOn: string | null;
  on: string;
}): PaymentState {
  const owed = new Dec(total).abs();
  const left = owed.minus(paid);
  const open = left.toFixed();
  if (left.lt(0)) return { state: 'overpaid', open };
  if (left.isZero()) return { state: owed.isZero() ? 'nothing-owed' : 'paid', open };
  return { state: dueOn !== null && dueOn < on ? 'overdue' : 'open', open };
}
