import { dayWords } from '../day-words.ts';
import { grouped } from '../money.ts';
import type { PriceBasis, PriceTerms } from '../terms/metal-terms.ts';
import { dateOfEvent } from '../terms/price-period.ts';
import { chosenPrice } from './chosen-price.ts';
import { figure, given, shown, unitText, type Figure } from './figure.ts';
import { fromQuotations } from './mean-of-quotations.ts';
import { addLine, blocker, warning, type SettlementRun } from './run.ts';

/**
 * The quoted price of a metal in the contract's currency, before reductions: fixed by
 * the contract, the mean over the quotational period, or as entered. Asked for only
 * when a clause needs it; what is missing is said once.
 */
export function quotedPrice(run: SettlementRun, metal: string): Figure | null {
  const known = run.prices.get(metal);
  if (known !== undefined) return known;
  const terms = run.terms.metals.find((m) => m.metal === metal)?.price;
  let price: Figure | null = null;
  if (terms === undefined) {
    blocker(
      run,
      'price-not-in-contract',
      '/terms/metals',
      `A clause needs the price of ${metal}, but the contract does not say how ${metal} is priced.`,
    );
  } else {
    price = foreignToContract(run, metal, terms, priceInItsCurrency(run, metal, terms));
  }
  run.prices.set(metal, price);
  return price;
}

function priceInItsCurrency(run: SettlementRun, metal: string, terms: PriceTerms): Figure | null {
  const unit = `${terms.currency ?? run.terms.currency}/${terms.unit}`;
  const id = `prices/${metal}`;
  const input = run.input.prices.find((p) => p.metal === metal);
  if (terms.basis.kind === 'fixed') {
    const price = given(terms.basis.price, unit);
    if (input !== undefined && input.price !== null && !price.value.eq(input.price)) {
      warning(
        run,
        'price-is-fixed',
        '/prices',
        `${metal}: the price entered, ${input.price}, is not used; the contract fixes it at ${price.text}.`,
      );
    }
    addLine(run, {
      id,
      section: 'prices',
      label: `${metal}, fixed by the contract`,
      working: shown(price),
      result: price,
    });
    return price;
  }
  if (terms.basis.kind === 'by-grade') return gradePrice(run, metal, terms.basis, unit);
  const { basis } = terms;
  const isAgreed = input !== undefined && input.price !== null && input.quotations.length === 0;
  if (basis.kind === 'choice' && !isAgreed) return chosenPrice(run, metal, basis, unit);
  if (basis.kind === 'quotations' && input !== undefined && input.quotations.length > 0)
    return fromQuotations(run, { metal, basis, unit, id });
  if (input === undefined || input.price === null) {
    const source = basis.kind === 'quotations' ? basis.source : 'what is agreed';
    blocker(
      run,
      'price-missing',
      '/prices',
      `No price of ${metal} has been entered; the contract takes ${source}.`,
    );
    return null;
  }
  const price = given(input.price, unit);
  addLine(run, {
    id,
    section: 'prices',
    label: `${metal}, ${input.basis}`,
    working: shown(price),
    result: price,
  });
  return price;
}

/** The contract's price of the step that the metal's own assay reaches; null where it is not settled, which is said there. */
function gradePrice(
  run: SettlementRun,
  metal: string,
  { steps }: Extract<PriceBasis, { kind: 'by-grade' }>,
  unit: string,
): Figure | null {
  const grade = run.assays.get(metal);
  if (grade === undefined) return null;
  const step = steps.filter(({ fromGrade }) => grade.value.gte(fromGrade)).at(-1);
  const price = given(step?.price ?? '0', unit);
  addLine(run, {
    id: `prices/${metal}`,
    section: 'prices',
    label: `${metal}, by its grade of ${shown(grade)}`,
    working:
      step === undefined
        ? `below ${grouped(steps[0]?.fromGrade ?? '0')} nothing is paid`
        : `from ${grouped(step.fromGrade)} ${unitText(grade.unit)}: ${shown(price)}`,
    quantity: grade,
    result: price,
  });
  return price;
}

function foreignToContract(
  run: SettlementRun,
  metal: string,
  terms: PriceTerms,
  price: Figure | null,
): Figure | null {
  if (price === null || terms.currency === null || terms.currency === run.terms.currency) return price;
  const rate = exchangeRate(run, terms.currency);
  if (rate === null) return null;
  const converted = figure(
    price.value.times(rate.value),
    run.terms.rounding.price,
    `${run.terms.currency}/${terms.unit}`,
  );
  addLine(run, {
    id: `prices/${metal}/${run.terms.currency}`,
    section: 'prices',
    label: `${metal} in ${run.terms.currency}`,
    working: `${shown(price)} × ${shown(rate)} = ${shown(converted)}`,
    quantity: price,
    rate,
    result: converted,
  });
  return converted;
}

/** Units of the contract's currency for one of the foreign one, on the contract's day or the latest before it. */
export function exchangeRate(run: SettlementRun, currency: string): Figure | null {
  const known = run.exchangeRates.get(currency);
  if (known !== undefined) return known;
  const clause = run.terms.exchangeRates.find((e) => e.currency === currency);
  const day = clause === undefined ? null : dateOfEvent(clause.rateOn, run.input.dates);
  const rates = (run.input.exchangeRates ?? [])
    .filter((r) => r.currency === currency && (day === null || r.date <= day))
    .sort((a, b) => (a.date < b.date ? -1 : 1));
  const chosen = rates.at(-1);
  let rate: Figure | null = null;
  if (clause === undefined) {
    blocker(
      run,
      'no-exchange-clause',
      '/terms/exchangeRates',
      `The contract uses ${currency} but does not say which day's exchange rate counts.`,
    );
  } else if (chosen === undefined || (day === null && run.input.stage === 'final')) {
    blocker(
      run,
      'exchange-rate-missing',
      '/exchangeRates',
      `The rate of ${currency} on the day of ${clause.rateOn.replaceAll('-', ' ')}${day === null ? ', which is not known,' : ` (${day})`} is needed from ${clause.source}.`,
    );
  } else {
    rate = given(chosen.rate, `${run.terms.currency}/${currency}`);
    addLine(run, {
      id: `prices/exchange/${currency}`,
      section: 'prices',
      label: `${currency}, ${clause.source}, ${dayWords(chosen.date)}`,
      working: shown(rate),
      result: rate,
    });
  }
  run.exchangeRates.set(currency, rate);
  return rate;
}
