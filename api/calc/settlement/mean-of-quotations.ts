import { dayWords } from '../day-words.ts';
import type { Finding } from '../finding.ts';
import { Dec, grouped } from '../money.ts';
import type { QuotedBasis } from '../terms/metal-terms.ts';
import {
  priceFromQuotations,
  quotationalPeriod,
  type PriceFromQuotations,
  type Quotation,
} from '../terms/price-period.ts';
import { figure, shown, type Figure } from './figure.ts';
import { addLine, blocker, note, warning, type SettlementRun } from './run.ts';

/** The mean over the quotational period of one quoted basis, or what stands in for it; a line under `id`. */
export function fromQuotations(
  run: SettlementRun,
  { metal, basis, unit, id }: { metal: string; basis: QuotedBasis; unit: string; id: string },
): Figure | null {
  const input = run.input.prices.find((p) => p.metal === metal);
  if (input === undefined) return null;
  const { dates, stage } = run.input;
  const found = priceFromQuotations({ priceBasis: basis, dates, quotations: input.quotations });
  run.findings.push(
    ...found.findings.map((f): Finding => ({
      ...f,
      path: `/prices${f.path}`,
      sentence: `${metal}: ${f.sentence}`,
    })),
  );
  const period = quotationalPeriod({ priceBasis: basis, dates });
  const periodText =
    'reason' in period ? period.reason : `${dayWords(period.from)} to ${dayWords(period.to)}`;
  if (!found.complete && stage === 'final') {
    blocker(
      run,
      'quotational-period-not-over',
      '/prices',
      `${metal}: the final price needs the whole quotational period. ${'reason' in period ? period.reason : `It runs from ${periodText}, and the quotations end before.`}`,
    );
    return null;
  }
  if (found.price === null) {
    if (found.complete) return null;
    blocker(
      run,
      'price-missing',
      '/prices',
      `No quotation of ${metal} is known by the day of the statement; enter one of ${basis.source}.`,
    );
    return null;
  }
  const price = figure(found.price, run.terms.rounding.price, unit);
  const which = found.complete ? `mean of ${periodText}` : 'provisional, latest known';
  addLine(run, {
    id,
    section: 'prices',
    label: `${metal}, ${basis.source}, ${which}`,
    working: `${meanWorking(found)} = ${shown(price)}`,
    result: price,
  });
  if (input.price !== null && !new Dec(input.price).eq(price.value)) {
    warning(
      run,
      'price-differs-from-quotations',
      '/prices',
      `${metal}: the price entered, ${input.price}, is not the mean of the quotations, ${price.text}; the quotations were used.`,
    );
  }
  if (!found.complete) {
    note(
      run,
      'price-provisional',
      '/prices',
      `${metal}: the quotational period is not over; the latest price known stands in.`,
    );
  }
  return price;
}

const workings = new WeakMap<readonly Quotation[], string>();

/** The quotations of a mean and their sum over their number; a list that parcels share is written out once. */
function meanWorking({ quotationsUsed, sum }: PriceFromQuotations): string {
  let working = workings.get(quotationsUsed);
  if (working === undefined) {
    const list = quotationsUsed.map(({ date, price }) => `${dayWords(date)} ${grouped(price)}`).join('; ');
    working = `${list}; sum over the number of quotations: ${grouped(sum.toFixed())} ÷ ${quotationsUsed.length}`;
    workings.set(quotationsUsed, working);
  }
  return working;
}
