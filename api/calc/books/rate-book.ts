import type { Finding } from '../finding.ts';
import { Dec } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';
import { exchanged, type DatedRate } from './exchange.ts';
import type { BookedRate } from './journal.ts';

/** Rates as the journal asks for them, and what it asked for in vain. */
export interface RateBook {
  /** Null for the mill's own currency. Where no rate is there it is '0', and a blocker names currency and day. */
  rateOn: (currency: string, on: string) => BookedRate | null;
  /** An amount in the mill's currency, to the cent, halves up. */
  told: (amount: string, currency: string, on: string) => string;
  findings: () => Finding[];
}

/** The last rate on or before a day, each asked for once (IAS 21 The Effects of Changes in Foreign Exchange Rates §21). */
export function rateBook({
  millCurrency,
  rates,
}: {
  millCurrency: string;
  rates: readonly DatedRate[];
}): RateBook {
  const known = new Map<string, BookedRate>();
  const missing: Finding[] = [];
  const rateOn = (currency: string, on: string): BookedRate | null => {
    if (currency === millCurrency) return null;
    const key = `${currency} ${on}`;
    const kept = known.get(key);
    if (kept !== undefined) return kept;
    const { rate } = exchanged({ amount: '1', currency, on, millCurrency, rates });
    if (rate === null)
      missing.push({
        code: 'exchange-rate-missing',
        level: 'blocker',
        path: '',
        sentence: `No exchange rate of ${currency} on or before ${on} is entered, so what was booked in ${currency} that day cannot be told in ${millCurrency}. Enter the rate under Expenses, and ask again.`,
      });
    const booked = { currency, rate: rate ?? '0' };
    known.set(key, booked);
    return booked;
  };
  return {
    rateOn,
    told: (amount, currency, on) => {
      const rate = rateOn(currency, on);
      return roundedText(rate === null ? new Dec(amount) : new Dec(amount).times(rate.rate), halfUp(2));
    },
    findings: () => missing,
  };
}
