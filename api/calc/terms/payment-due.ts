import { addBusinessDays, addDays } from '../calendar.ts';
import { dateOfEvent, type SettlementDates } from './price-period.ts';
import type { SettlementStage, Terms } from './terms.ts';

/**
 * The day a payment of a stage is due: so many calendar or business days after the
 * contract's event. Null where the contract does not say or the event's day is not known.
 */
export function paymentDueOn({
  terms,
  stage,
  dates,
}: {
  terms: Pick<Terms, 'payment'>;
  stage: SettlementStage;
  dates: SettlementDates;
}): string | null {
  const payment = terms.payment.find((clause) => clause.stage === stage);
  const from = payment === undefined ? null : dateOfEvent(payment.after, dates);
  if (payment === undefined || from === null) return null;
  return payment.dayKind === 'business' ? addBusinessDays(from, payment.days) : addDays(from, payment.days);
}
