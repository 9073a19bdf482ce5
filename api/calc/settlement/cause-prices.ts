import { grouped } from '../money.ts';
import type { MetalTerms, PriceChoice, PriceTerms } from '../terms/metal-terms.ts';
import { percentText } from '../terms/payable-form.ts';
import type { Terms } from '../terms/terms.ts';
import { replaced, type Hypothesis, type Reading } from './hypothesis.ts';
import type { SettlementInput } from './input.ts';

const RULES: Record<PriceChoice, string> = {
  lowest: 'the lowest of the prices to choose from',
  highest: 'the highest of the prices to choose from',
  mean: 'the mean of the prices to choose from',
  'seller-option': "the seller's choice",
  'buyer-option': "the buyer's choice",
};

/** The price of a metal, what chooses its step and what is kept back, read otherwise. */
export function* priceReadings(terms: Terms): Generator<Reading> {
  for (const [index, metal] of terms.metals.entries()) {
    const put = (changed: Partial<MetalTerms>): Partial<Terms> => ({
      metals: replaced(terms.metals, index, { ...metal, ...changed }),
    });
    for (const [code, words, price] of otherPrices(metal)) {
      yield [code, `For ${metal.metal} they take ${words}.`, put({ price })];
    }
    if (metal.minimumDeduction != null) {
      const sentence = `They do not keep back the least deduction of ${metal.metal}.`;
      yield ['minimum-deduction-left-out', sentence, put({ minimumDeduction: null })];
    }
    if (metal.form.kind === 'steps' && metal.form.by != null) {
      const sentence = `They choose the step of ${metal.metal} by its own assay, the contract by that of ${metal.form.by}.`;
      yield ['other-chooser', sentence, put({ form: { ...metal.form, by: null } })];
    }
  }
}

function* otherPrices({ price }: MetalTerms): Generator<[string, string, PriceTerms]> {
  const { basis } = price;
  if (basis.kind === 'choice') {
    for (const [number, option] of basis.options.entries()) {
      const part = Number(option.paidFrac) === 1 ? '' : `${percentText(option.paidFrac)} of `;
      const words = `the price by ${part}${option.source} (option ${number + 1})`;
      yield [
        'other-price-option',
        words,
        { ...price, basis: { ...basis, rule: 'lowest', options: [option] } },
      ];
    }
    for (const rule of ['lowest', 'highest', 'mean'] as const) {
      if (rule !== basis.rule)
        yield ['other-price-rule', RULES[rule], { ...price, basis: { ...basis, rule } }];
    }
    const whole = basis.options.map((option) => ({ ...option, paidFrac: '1' }));
    yield [
      'option-in-full',
      'the options in full, without their discounts',
      { ...price, basis: { ...basis, options: whole } },
    ];
  }
  if (basis.kind === 'by-grade') {
    for (const step of basis.steps) {
      const words = `the price of the step from ${grouped(step.fromGrade)}, ${grouped(step.price)}`;
      yield ['other-price-step', words, { ...price, basis: { kind: 'fixed', price: step.price } }];
    }
  }
  if (price.floor != null) yield ['floor-left-out', 'no floor of the price', { ...price, floor: null }];
  if (price.cap != null) yield ['cap-left-out', 'no cap of the price', { ...price, cap: null }];
}

/** Taxes reckoned on another base, or left out. */
export function* taxReadings(terms: Terms): Generator<Reading> {
  const taxes = terms.taxes ?? [];
  for (const [index, tax] of taxes.entries()) {
    for (const kind of (['net-value', 'payable-value'] as const).filter((one) => one !== tax.base.kind)) {
      const words = kind === 'net-value' ? 'net value' : 'payable value';
      const changed = { taxes: replaced(taxes, index, { ...tax, base: { kind } }) };
      yield ['other-tax-base', `They reckon ${tax.name} on the ${words}.`, changed];
    }
    yield ['tax-left-out', `They leave ${tax.name} out.`, { taxes: taxes.filter((one) => one !== tax) }];
  }
}

/** What was agreed for this parcel alone, left out. */
export function* agreedItemCauses(input: SettlementInput): Generator<Hypothesis> {
  const items = input.agreedItems ?? [];
  for (const item of items) {
    yield {
      code: 'agreed-item-left-out',
      sentence: `They leave out what was agreed for this parcel: ${item.name}.`,
      input: { ...input, agreedItems: items.filter((one) => one !== item) },
    };
  }
}
