import { quotedBases } from './price-bases.ts';
import type { EventName } from './term-units.ts';
import type { Terms } from './terms.ts';

/** Events from which the terms count days: of price periods, payments, exchange rates and interest. */
export function eventsNamed(terms: Terms): Set<EventName> {
  const named = new Set<EventName>();
  for (const { price } of terms.metals) {
    for (const { period } of quotedBases(price.basis)) if (period.kind !== 'dates') named.add(period.event);
  }
  for (const payment of terms.payment) named.add(payment.after);
  for (const rate of terms.exchangeRates) named.add(rate.rateOn);
  if (terms.interest?.period.kind === 'until') named.add(terms.interest.period.event);
  return named;
}
