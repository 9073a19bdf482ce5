import type { Terms } from '../terms/terms.ts';

/** Calendar days that a business day stands for, on average. */
const CALENDAR_DAYS_A_BUSINESS_DAY = 7 / 5;

/**
 * Calendar days from shipment until the last payment of a contract, counting each event that payments hang
 * on as the shipment itself: the shortest that it can be. 0 where the contract names no payment.
 */
export function daysUntilPaid(terms: Terms): number {
  return terms.payment.reduce((longest, payment) => {
    const days = payment.dayKind === 'business' ? payment.days * CALENDAR_DAYS_A_BUSINESS_DAY : payment.days;
    return Math.max(longest, days);
  }, 0);
}
