import { addBusinessDays, addDays, businessDays, isIsoDate, monthOf, weekOf } from '../calendar.ts';
import type { Finding } from '../finding.ts';
import { Dec, sumOfTexts, type DecimalNumber } from '../money.ts';
import type { PriceBasis, QuotedBasis } from './metal-terms.ts';
import type { EventName } from './term-units.ts';

/** One basis of a price; of several to choose from each is worked by itself. */
export type FixedOrQuoted = Exclude<PriceBasis, { kind: 'choice' | 'by-grade' }>;

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
  priceBasis: FixedOrQuoted;
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

/** A day's quotations: the last one of each day in the order of the days, and where two of a day are not the same. */
interface OrderedQuotations {
  byDay: Quotation[];
  /** Prices taken of the list so far, by what was asked: the parcels of a month share theirs. */
  priced: Map<string, PriceFromQuotations>;
  disagreements: { date: string; prices: [string, string] }[];
}

const kept = new WeakMap<readonly Quotation[], OrderedQuotations>();

/** Quotations put in order, once for all that is priced by the same list; a list is never changed in place. */
function orderedQuotations(quotations: readonly Quotation[]): OrderedQuotations {
  const known = kept.get(quotations);
  if (known !== undefined) return known;
  const byDate = new Map<string, Quotation>();
  const disagreements: OrderedQuotations['disagreements'] = [];
  for (const quotation of quotations) {
    const earlier = byDate.get(quotation.date);
    if (earlier !== undefined && !new Dec(earlier.price).eq(quotation.price))
      disagreements.push({ date: quotation.date, prices: [earlier.price, quotation.price] });
    byDate.set(quotation.date, quotation);
  }
  const byDay = [...byDate.values()].sort((a, b) => (a.date < b.date ? -1 : 1));
  const ordered = { byDay, disagreements, priced: new Map<string, PriceFromQuotations>() };
  kept.set(quotations, ordered);
  return ordered;
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
  priceBasis: FixedOrQuoted;
  dates: SettlementDates;
  quotations: readonly Quotation[];
}): PriceFromQuotations {
  if (priceBasis.kind === 'fixed') {
    return {
      price: new Dec(priceBasis.price),
      sum: new Dec(0),
      quotationsUsed: [],
      missingDays: [],
      complete: true,
      findings: [],
    };
  }
  const ordered = orderedQuotations(quotations);
  const period = quotationalPeriod({ priceBasis, dates });
  const asked = JSON.stringify([priceBasis, period, dates.statementOn]);
  let priced = ordered.priced.get(asked);
  if (priced === undefined) {
    priced = pricedOver(priceBasis, period, ordered, dates.statementOn);
    ordered.priced.set(asked, priced);
  }
  return priced;
}

function pricedOver(
  priceBasis: QuotedBasis,
  period: ReturnType<typeof quotationalPeriod>,
  ordered: OrderedQuotations,
  statementOn: string | null,
): PriceFromQuotations {
  const findings: Finding[] = [];
  const isKnown = ({ date }: { date: string }) => statementOn === null || date <= statementOn;
  for (const { date, prices } of ordered.disagreements.filter(isKnown)) {
    findings.push({
      code: 'quotations-disagree',
      level: 'blocker',
      path: '/quotations',
      sentence: `There are two quotations for ${date}, ${prices[0]} and ${prices[1]}; keep the right one.`,
    });
  }
  const known = ordered.byDay.filter(isKnown);
  const lastKnown = known.at(-1)?.date ?? '';
  const holidays = priceBasis.period.kind === 'business-days' ? priceBasis.period.holidays : ([] as string[]);
  if (!('reason' in period)) {
    const expected = businessDays(period.from, period.to, holidays);
    const used = known.filter(({ date }) => date >= period.from && date <= period.to);
    const quoted = new Set(used.map(({ date }) => date));
    const missingDays = expected.filter((day) => day <= lastKnown && !quoted.has(day));
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
    const mean = meanOf(provisionalQuotations(priceBasis, known));
    return { ...mean, missingDays, complete: false, findings };
  }
  const mean = meanOf(provisionalQuotations(priceBasis, known));
  return { ...mean, missingDays: [], complete: false, findings };
}

function provisionalQuotations({ provisional }: QuotedBasis, known: Quotation[]): Quotation[] {
  return known.slice(-(provisional.kind === 'latest' ? 1 : provisional.quotations));
}

function meanOf(quotationsUsed: Quotation[]): Pick<PriceFromQuotations, 'price' | 'sum' | 'quotationsUsed'> {
  const sum = sumOfTexts(quotationsUsed.map(({ price }) => price));
  return { price: quotationsUsed.length === 0 ? null : sum.div(quotationsUsed.length), sum, quotationsUsed };
}
