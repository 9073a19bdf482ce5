import { Dec, grouped } from '../money.ts';
import type { PriceBasis, PriceChoice } from '../terms/metal-terms.ts';
import { percentText } from '../terms/payable-form.ts';
import { bare, figure, given, shown, type Figure } from './figure.ts';
import { fromQuotations } from './mean-of-quotations.ts';
import { addLine, blocker, note, type SettlementRun } from './run.ts';

type Choice = Extract<PriceBasis, { kind: 'choice' }>;

const RULE_WORDS: Record<PriceChoice, string> = {
  lowest: 'the lowest',
  highest: 'the highest',
  mean: 'the mean of all',
  'seller-option': "at the seller's option",
  'buyer-option': "at the buyer's option",
};

/**
 * The price where the contract knows several quotations or periods: each worked with the part of it that
 * counts, then the lowest, the highest or their mean; or the one that the party entitled to it declared.
 */
export function chosenPrice(run: SettlementRun, metal: string, choice: Choice, unit: string): Figure | null {
  const { rule } = choice;
  const isDeclared = rule === 'seller-option' || rule === 'buyer-option';
  const place = isDeclared ? declaredPlace(run, metal, choice) : null;
  if (isDeclared && place === null) return null;
  const worked = choice.options.flatMap((_, index) =>
    place === null || place === index ? [optionPrice(run, metal, choice, index, unit)] : [],
  );
  const known = worked.filter((price) => price !== null);
  const [first] = known;
  if (first === undefined || known.length < worked.length) return null;
  const values = known.map(({ value }) => value);
  const { value, expression } =
    place !== null
      ? { value: first.value, expression: bare(first) }
      : rule === 'mean'
        ? {
            value: Dec.sum(...values).div(known.length),
            expression: `(${known.map(bare).join(' + ')}) ÷ ${known.length}`,
          }
        : {
            value: rule === 'lowest' ? Dec.min(...values) : Dec.max(...values),
            expression: nested(known, rule === 'lowest' ? 'lesser of' : 'greater of'),
          };
  const price = figure(value, run.terms.rounding.price, unit);
  addLine(run, {
    id: `prices/${metal}`,
    section: 'prices',
    label: `${metal}, ${RULE_WORDS[rule]}`,
    working: `${expression} = ${shown(price)}`,
    result: price,
  });
  return price;
}

/** `lesser of (lesser of a and b) and c`. */
function nested(prices: Figure[], words: string): string {
  return prices
    .map(bare)
    .reduce((before, price, index) => `${words} ${index > 1 ? `(${before})` : before} and ${price}`);
}

/** Finally the declaration is needed; until then the first option stands in. */
function declaredPlace(run: SettlementRun, metal: string, choice: Choice): number | null {
  const party = choice.rule === 'seller-option' ? 'seller' : 'buyer';
  const declared = run.input.prices.find((price) => price.metal === metal)?.declaredOption ?? null;
  if (declared !== null && choice.options[declared] !== undefined) return declared;
  if (run.input.stage === 'final') {
    blocker(
      run,
      'option-not-declared',
      '/prices',
      `${metal}: the price is at the ${party}'s option; enter which one the ${party} has declared.`,
    );
    return null;
  }
  note(
    run,
    'option-not-declared-yet',
    '/prices',
    `${metal}: the ${party} has not declared an option yet; the first of the contract stands in.`,
  );
  return 0;
}

function optionPrice(
  run: SettlementRun,
  metal: string,
  { options }: Choice,
  index: number,
  unit: string,
): Figure | null {
  const option = options[index];
  const input = run.input.prices.find((price) => price.metal === metal);
  if (option === undefined) return null;
  const id = `prices/${metal}/option-${index + 1}`;
  const name = `option ${index + 1}, ${option.source}`;
  const entered = input?.options?.find((one) => one.option === index);
  let price: Figure | null = null;
  if (entered !== undefined) {
    price = given(entered.price, unit);
    addLine(run, {
      id,
      section: 'prices',
      label: `${metal}, ${name}, ${entered.basis}`,
      working: shown(price),
      result: price,
    });
  } else if (input !== undefined && input.quotations.length > 0) {
    price = fromQuotations(run, { metal, basis: { ...option, source: name }, unit, id });
  } else {
    blocker(
      run,
      'price-missing',
      '/prices',
      `No price of ${metal} has been entered for option ${index + 1} of ${options.length}, ${option.source}.`,
    );
  }
  if (price === null || new Dec(option.paidFrac).eq(1)) return price;
  const counted = figure(price.value.times(option.paidFrac), run.terms.rounding.price, unit);
  addLine(run, {
    id: `${id}/counted`,
    section: 'prices',
    label: `${metal}, ${name}, ${percentText(option.paidFrac)} of it`,
    working: `${grouped(price.text)} × ${percentText(option.paidFrac)} = ${shown(counted)}`,
    quantity: price,
    result: counted,
  });
  return counted;
}
