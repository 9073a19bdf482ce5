import type { MetalTerms, SimplePayableForm } from '../terms/metal-terms.ts';
import { percentText } from '../terms/payable-form.ts';
import type { ContractFactors, Terms } from '../terms/terms.ts';
import { chargeReadings, ladderReadings } from './cause-clauses.ts';
import { paymentReadings } from './cause-payment.ts';
import { agreedItemCauses, priceReadings, taxReadings } from './cause-prices.ts';
import { roundingReadings } from './cause-roundings.ts';
import { readingsTogether } from './cause-together.ts';
import { replaced, type Hypothesis, type Reading } from './hypothesis.ts';
import type { SettlementInput } from './input.ts';

/** Other readings of the contract: each changes one thing in the terms. */
export function* termCauses(input: SettlementInput): Generator<Hypothesis> {
  const { terms } = input;
  const reads = (code: string, sentence: string, changed: Partial<Terms>): Hypothesis => ({
    code,
    sentence,
    input: { ...input, terms: { ...terms, ...changed } },
  });
  for (const variant of [
    ...franchises(terms),
    ...factors(terms),
    ...payables(terms),
    ...ladderReadings(terms),
    ...chargeReadings(terms),
    ...paymentReadings(terms),
    ...priceReadings(terms),
    ...taxReadings(terms),
    ...roundingReadings(terms),
    ...readingsTogether(terms),
  ]) {
    yield reads(...variant);
  }
  yield* agreedItemCauses(input);
}

function* franchises({ weights }: Terms): Generator<Reading> {
  if (weights.kind === 'melt') {
    const massOfRecord = weights.massOfRecord === 'received' ? 'after-melting' : 'received';
    const words = massOfRecord === 'received' ? 'as received' : 'after melting';
    yield [
      'other-mass-of-record',
      `They settle on the mass ${words}.`,
      { weights: { ...weights, massOfRecord } },
    ];
    return;
  }
  for (const franchiseFrac of ['0', '0.0025', '0.003', '0.005', '0.01', '0.02']) {
    if (Number(franchiseFrac) === Number(weights.franchiseFrac)) continue;
    const sentence = `They take off a franchise of ${percentText(franchiseFrac)}, the contract ${percentText(weights.franchiseFrac)}.`;
    yield ['other-franchise', sentence, { weights: { ...weights, franchiseFrac } }];
  }
}

const FACTORS_IN_USE: Record<keyof ContractFactors, string[]> = {
  ounceG: ['31.1034768', '31.10348', '31.1035', '31.103', '31.104', '31.1'],
  poundsPerTonne: ['2204.62262', '2204.6226', '2204.622', '2204.62', '2204.6', '2205', '2204'],
  shortTonsPerTonne: ['1.10231131', '1.10231', '1.1023', '1.102'],
  longTonsPerTonne: ['0.98420653', '0.984207', '0.98421', '0.9842'],
};

function* factors(terms: Terms): Generator<Reading> {
  for (const name of Object.keys(FACTORS_IN_USE) as (keyof ContractFactors)[]) {
    for (const factor of FACTORS_IN_USE[name]) {
      if (Number(factor) === Number(terms.factors[name])) continue;
      const sentence = `They convert with ${factor}, the contract with ${terms.factors[name]}.`;
      yield ['other-factor', sentence, { factors: { ...terms.factors, [name]: factor } }];
    }
  }
}

const FORM_WORDS: Record<SimplePayableForm['kind'], string> = {
  'lesser-of': 'the lesser of percentage and deduction',
  'unit-then-percent': 'the deduction first, then the percentage',
  'percent-then-unit': 'the percentage first, then the deduction',
};

function otherForms(metal: MetalTerms): { words: string; form: MetalTerms['form'] }[] {
  const { form } = metal;
  if (form.kind === 'bands') {
    const steps = form.bands.map(({ fromGrade, paidFrac }) => ({
      fromGrade,
      form: { kind: 'unit-then-percent' as const, paidFrac, deduction: '0' },
    }));
    return [{ words: 'the whole assay at the rate of its band', form: { kind: 'steps', steps } }];
  }
  if (form.kind === 'steps') {
    return form.steps.map((step) => ({
      words: `the whole assay by the step from ${step.fromGrade}`,
      form: step.form,
    }));
  }
  if (form.kind === 'sliding') return [{ words: 'without the sliding scale', form: form.form }];
  const kinds = Object.keys(FORM_WORDS) as SimplePayableForm['kind'][];
  return [
    ...kinds
      .filter((kind) => kind !== form.kind)
      .map((kind) => ({ words: FORM_WORDS[kind], form: { ...form, kind } })),
    { words: 'no deduction', form: { ...form, deduction: '0' } },
    { words: 'no percentage', form: { ...form, paidFrac: '1' } },
  ];
}

function* payables(terms: Terms): Generator<Reading> {
  for (const [index, metal] of terms.metals.entries()) {
    const put = (changed: Partial<MetalTerms>): Partial<Terms> => ({
      metals: replaced(terms.metals, index, { ...metal, ...changed }),
    });
    const { metal: name, refining, order, price } = metal;
    for (const { words, form } of otherForms(metal)) {
      yield ['other-payable-form', `For ${name} they take ${words}.`, put({ form })];
    }
    if (terms.valuation.kind === 'payable-metal') {
      const other = order === 'grade' ? 'content' : 'grade';
      const words = other === 'content' ? 'metal contained' : 'grade';
      yield ['other-order', `For ${name} they work the payable part on the ${words}.`, put({ order: other })];
    }
    if (refining !== null) {
      const kind = refining.kind === 'price-reduction' ? 'per-payable-unit' : 'price-reduction';
      const words = kind === 'price-reduction' ? 'off the price' : 'as a charge of its own';
      yield [
        'refining-elsewhere',
        `They take the refining of ${name} ${words}.`,
        put({ refining: { ...refining, kind } }),
      ];
      yield ['refining-left-out', `They charge no refining of ${name}.`, put({ refining: null })];
    }
    if (Number(price.reduction) !== 0) {
      yield [
        'reduction-left-out',
        `They do not reduce the price of ${name}.`,
        put({ price: { ...price, reduction: '0' } }),
      ];
    }
    if (Number(price.paidFrac) !== 1) {
      yield [
        'full-price',
        `They pay the full price of ${name}.`,
        put({ price: { ...price, paidFrac: '1' } }),
      ];
    }
    if (metal.minimumGrade !== null) {
      yield [
        'minimum-left-out',
        `They pay ${name} below the contract's least grade.`,
        put({ minimumGrade: null }),
      ];
    }
  }
}
