import { addBusinessDays, addDays, businessDays, isIsoDate, monthOf, weekOf } from '../calendar.ts';
import type { Finding } from '../finding.ts';
import { Dec, sumOfTexts, type DecimalNumber } from '../money.ts';
import type { PriceBasis } from './metal-terms.ts';
import type { EventName } from './term-units.ts';

/** Days that a contract counts from; null while not known. */
export interface SettlementDates {
  shippedOn: string | null;
  arrivedOn: string | null;
  weighedOn: string | null;
  meltedOn: string | null;
  assaysExchangedOn: string | null;
  priceDeclaredOn: string | null;
  statementOn: string | null;
}

const DATE_OF: Record<EventName, keyof SettlementDates> = {
  shipment: 'shippedOn',
  arrival: 'arrivedOn',
  weighing: 'weighedOn',
  melting: 'meltedOn',
  'assay-exchange': 'assaysExchangedOn',
  'price-declaration': 'priceDeclaredOn',
  statement: 'statementOn',
};

/** The day of an event, or null while it is not known. */
export function dateOfEvent(event: EventName, dates: SettlementDates): string | null {
  const date = dates[DATE_OF[event]];
  return date !== null && isIsoDate(date) ? date : null;
}

export interface Quotation {
  date: string;
  price: string;
}

/** First and last day of the quotational period, both included, or why it cannot be said yet. */
export function quotationalPeriod({
  priceBasis,
  dates,
}: {
  priceBasis: PriceBasis;
  dates: SettlementDates;
}): { from: string; to: string } | { reason: string } {
  if (priceBasis.kind === 'fixed') return { reason: 'The price is fixed; there is no quotational period.' };
  const { period } = priceBasis;
  if (period.kind === 'dates') return { from: period.from, to: period.to };
  const day = dateOfEvent(period.event, dates);
  if (day === null) {
    return { reason: `The date of ${period.event.replaceAll('-', ' ')} is not known yet.` };
  }
  switch (period.kind) {
    case 'calendar-month':
      return monthOf(day, period.monthsAfter);
    case 'calendar-week':
      return weekOf(day, period.weeksAfter);
    case 'calendar-days':
      return { from: addDays(day, period.from), to: addDays(day, period.to) };
    case 'business-days':
      return {
        from: addBusinessDays(day, period.from, period.holidays),
        to: addBusinessDays(day, period.to, period.holidays),
      };
  }
}

export interface PriceFromQuotations {
  /** Exact mean, not rounded; null where there is none. */
  price: DecimalNumber | null;
  /** Of the quotations used. */
  sum: DecimalNumber;
  quotationsUsed: Quotation[];
  /** Weekdays of the period, up to the last quotation known, that have no quotation. */
  missingDays: string[];
  /** False while the period is not over or not known: the price is then provisional. */
  complete: boolean;
  findings: Finding[];
}

/**
 * Mean of the daily quotations of the quotational period: Σ quotations ÷ number of
 * them. Days without a quotation are left out, never filled in. While the period is
 * not over, the contract's provisional price on the quotations known by the day of
 * the statement.
 */
export function priceFromQuotations({
  priceBasis,
  dates,
  quotations,
}: {
  priceBasis: PriceBasis;
  dates: SettlementDates;
  quotations: readonly Quotation[];
}): PriceFromQuotations {
  const findings: Finding[] = [];
  if (priceBasis.kind === 'fixed') {
    return {
      price: new Dec(priceBasis.price),
      sum: new Dec(0),
      quotationsUsed: [],
      missingDays: [],
      complete: true,
      findings,
    };
  }
  const byDate = new Map<string, Quotation>();
  for (const quotation of quotations) {
    const known = byDate.get(quotation.date);
    if (known !== undefined && !new Dec(known.price).eq(quotation.price)) {
      findings.push({
        code: 'quotations-disagree',
        level: 'blocker',
        path: '/quotations',
        sentence: `There are two quotations for ${quotation.date}, ${known.price} and ${quotation.price}; keep the right one.`,
      });
    }
    if (dates.statementOn === null || quotation.date <= dates.statementOn) {
      byDate.set(quotation.date, quotation);
    }
  }
  const known = [...byDate.values()].sort((a, b) => (a.date < b.date ? -1 : 1));
  const lastKnown = known.at(-1)?.date ?? '';
  const period = quotationalPeriod({ priceBasis, dates });
  const holidays = priceBasis.period.kind === 'business-days' ? priceBasis.period.holidays : ([] as string[]);
  if (!('reason' in period)) {
    const expected = businessDays(period.from, period.to, holidays);
    const used = known.filter(({ date }) => date >= period.from && date <= period.to);
    const missingDays = expected.filter((day) => day <= lastKnown && !byDate.has(day));
    const over = expected.length === 0 || lastKnown >= (expected.at(-1) ?? '');
    if (over) {
      if (used.length === 0) {
        findings.push({
          code: 'no-quotation-in-period',
          level: 'blocker',
          path: '/quotations',
          sentence: `No quotation lies in the quotational period ${period.from} to ${period.to}; enter those of ${priceBasis.source}.`,
        });
      }
      if (missingDays.length > 0) {
        findings.push({
          code: 'weekdays-without-quotation',
          level: 'note',
          path: '/quotations',
          sentence: `No quotation for ${missingDays.join(', ')}; the mean leaves them out. Right for holidays, otherwise enter them.`,
        });
      }
      return { ...meanOf(used), missingDays, complete: true, findings };
    }
    return { ...provisionalPrice(priceBasis, known), missingDays, complete: false, findings };
  }
  return { ...provisionalPrice(priceBasis, known), missingDays: [], complete: false, findings };
}

function provisionalPrice(
  basis: Extract<PriceBasis, { kind: 'quotations' }>,
  known: Quotation[],
): Pick<PriceFromQuotations, 'price' | 'sum' | 'quotationsUsed'> {
  return meanOf(known.slice(-(basis.provisional.kind === 'latest' ? 1 : basis.provisional.quotations)));
}

function meanOf(quotationsUsed: Quotation[]): Pick<PriceFromQuotations, 'price' | 'sum' | 'quotationsUsed'> {
  const sum = sumOfTexts(quotationsUsed.map(({ price }) => price));
  return { price: quotationsUsed.length === 0 ? null : sum.div(quotationsUsed.length), sum, quotationsUsed };
}
