import { daysBetween } from '../calendar.ts';
import type { Finding } from '../finding.ts';
import { Dec } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';

/** How much of the mill's currency one of another was worth on a day, as a decimal text. */
export interface DatedRate {
  currency: string;
  ratedOn: string;
  rate: string;
}

export interface ExchangedAmount {
  /** In the mill's currency, to the cent, halves up; null where there is no rate. */
  amount: string | null;
  /** '1' for the mill's own currency. */
  rate: string | null;
  /** The day of the rate; null for the mill's own currency and where there is none. */
  ratedOn: string | null;
  findings: Finding[];
}

/** Beyond so many days a rate is old enough to be said. */
const FRESH_DAYS = 7;

/**
 * An amount in the mill's currency: amount × the last rate on or before the day, to the cent, halves up.
 *
 * No rate on or before the day: no amount, and a blocker that says so; a rate older than seven days: a warning. A
 * rate is never guessed, nor taken from a later day. Source: IAS 21 The Effects of Changes in Foreign Exchange
 * Rates §21 (the spot rate at the date of the transaction); the seven days are this program's.
 */
export function exchanged({
  amount,
  currency,
  on,
  millCurrency,
  rates,
}: {
  /** Decimal text. */
  amount: string;
  currency: string;
  on: string;
  millCurrency: string;
  rates: readonly DatedRate[];
}): ExchangedAmount {
  if (currency === millCurrency)
    return { amount: roundedText(new Dec(amount), halfUp(2)), rate: '1', ratedOn: null, findings: [] };
  let newest: DatedRate | null = null;
  for (const one of rates)
    if (one.currency === currency && one.ratedOn <= on && (newest === null || one.ratedOn > newest.ratedOn))
      newest = one;
  if (newest === null)
    return {
      amount: null,
      rate: null,
      ratedOn: null,
      findings: [
        {
          code: 'exchange-rate-missing',
          level: 'blocker',
          path: '',
          sentence: `No exchange rate of ${currency} on or before ${on} is entered: ${amount} ${currency} cannot be told in ${millCurrency}. Enter the rate of that day.`,
        },
      ],
    };
  const age = daysBetween(newest.ratedOn, on);
  return {
    amount: roundedText(new Dec(amount).times(newest.rate), halfUp(2)),
    rate: newest.rate,
    ratedOn: newest.ratedOn,
    findings:
      age <= FRESH_DAYS
        ? []
        : [
            {
              code: 'exchange-rate-old',
              level: 'warning',
              path: '',
              sentence: `The exchange rate of ${currency} that counts for ${on} is of ${newest.ratedOn}, ${age} days older. Enter the rate of the day if it has moved.`,
            },
          ],
  };
}
