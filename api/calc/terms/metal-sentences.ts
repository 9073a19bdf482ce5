import { dayWords } from '../day-words.ts';
import { grouped } from '../money.ts';
import { roundingSentence } from '../rounding.ts';
import { escalatorSentence } from './charge-sentences.ts';
import { chooserOf } from './choosing-elements.ts';
import type {
  MetalTerms,
  PriceBasis,
  PriceChoice,
  QuotationalPeriod,
  SimplePayableForm,
  SlidingForm,
} from './metal-terms.ts';
import { percentText } from './payable-form.ts';
import type { Terms } from './terms.ts';
import { eventWords, list } from './words.ts';

function formWords(form: SimplePayableForm, unit: string): string {
  const paid = percentText(form.paidFrac);
  const off = `${form.deduction} ${unit}`;
  if (Number(form.deduction) === 0) return `${paid} of the assay`;
  return {
    'lesser-of': `the lesser of ${paid} of the assay and the assay less ${off}`,
    'unit-then-percent': `${paid} of what is left of the assay after ${off} is taken off`,
    'percent-then-unit': `${paid} of the assay, less ${off}`,
  }[form.kind];
}

function payableWords(metal: MetalTerms, unit: string, terms: Terms): string {
  const { form } = metal;
  const chooser = chooserOf(form);
  const chooserUnit =
    chooser === null ? unit : (terms.assays.find((rule) => rule.element === chooser)?.unit ?? '');
  if (form.kind === 'steps') {
    const steps = form.steps.map(
      (step) => `from ${step.fromGrade} ${chooserUnit} ${formWords(step.form, unit)}`,
    );
    return `the whole assay by the step ${chooser === null ? 'it' : `that ${chooser}`} reaches: ${list(steps)}`;
  }
  if (form.kind === 'sliding') return slidingWords(form, unit, chooserUnit);
  if (form.kind === 'bands') {
    const bands = form.bands.map(
      (band) => `above ${band.fromGrade} ${unit} ${percentText(band.paidFrac)} of that part`,
    );
    return `each part of the assay by its band: ${list(bands)}`;
  }
  return formWords(form, unit);
}

function slidingWords(form: SlidingForm, unit: string, chooserUnit: string): string {
  const isPaid = form.slides === 'paidFrac';
  const figure = (text: string) => (isPaid ? percentText(text) : `${grouped(text)} ${unit}`);
  const by = form.by ?? 'the grade';
  const steps = form.counting === 'pro-rata' ? '' : ', whole steps only';
  const least = form.minimum === null ? '' : `, no less than ${figure(form.minimum)}`;
  const most = form.maximum === null ? '' : `, no more than ${figure(form.maximum)}`;
  return `${formWords(form.form, unit)}, where the ${isPaid ? 'percentage' : 'deduction'} changes by ${figure(form.change)} for every ${form.step} ${chooserUnit} of ${by} above ${form.fromGrade}, and the other way below${steps}${least}${most}`;
}

/** For example `business days 1 to 5 after arrival`. */
function daysWords(from: number, to: number, kind: string, event: string): string {
  if (from === 0 && to === 0) return `the day of ${event}`;
  const side = (offset: number) => (offset > 0 ? 'after' : 'before');
  const day = (offset: number) =>
    offset === 0 ? `the day of ${event}` : `${kind} day ${Math.abs(offset)} ${side(offset)} ${event}`;
  if (from === to) return day(from);
  if (from * to > 0) return `${kind} days ${Math.abs(from)} to ${Math.abs(to)} ${side(from)} ${event}`;
  return `${day(from)} to ${day(to)}`;
}

/** The quotational period in words. */
export function periodWords(period: QuotationalPeriod): string {
  switch (period.kind) {
    case 'calendar-month':
    case 'calendar-week': {
      const unit = period.kind === 'calendar-month' ? 'month' : 'week';
      const offset = period.kind === 'calendar-month' ? period.monthsAfter : period.weeksAfter;
      const event = eventWords(period.event);
      if (offset === 0) return `the calendar ${unit} of ${event}`;
      const many = Math.abs(offset) === 1 ? unit : `${unit}s`;
      return `the calendar ${unit} ${Math.abs(offset)} ${many} ${offset > 0 ? 'after' : 'before'} that of ${event}`;
    }
    case 'business-days':
      return daysWords(period.from, period.to, 'business', eventWords(period.event));
    case 'calendar-days':
      return daysWords(period.from, period.to, 'calendar', eventWords(period.event));
    case 'dates':
      return `${dayWords(period.from)} to ${dayWords(period.to)}`;
  }
}

const CHOICE_WORDS: Record<PriceChoice, string> = {
  lowest: 'the lowest of',
  highest: 'the highest of',
  mean: 'the mean of',
  'seller-option': "at the seller's option one of",
  'buyer-option': "at the buyer's option one of",
};

function basisWords(basis: PriceBasis, currency: string, unit: string, gradeUnit: string): string {
  if (basis.kind === 'fixed') return `fixed at ${grouped(basis.price)} ${currency}/${unit}`;
  if (basis.kind === 'by-grade') {
    const steps = basis.steps.map(
      (step) => `${grouped(step.price)} ${currency}/${unit} from ${grouped(step.fromGrade)} ${gradeUnit}`,
    );
    return `fixed by the grade: ${list(steps)}; below that nothing is paid`;
  }
  if (basis.kind === 'choice') {
    const options = basis.options.map(
      (option, index) =>
        `(${index + 1}) ${Number(option.paidFrac) === 1 ? '' : `${percentText(option.paidFrac)} of `}${basisWords({ ...option, kind: 'quotations' }, currency, unit, gradeUnit)}`,
    );
    return `${CHOICE_WORDS[basis.rule]} ${list(options)}`;
  }
  const latest =
    basis.provisional.kind === 'latest'
      ? 'the latest quotation'
      : `the mean of the last ${basis.provisional.quotations} quotations`;
  return `the mean of the daily quotations (${basis.source}, ${currency}/${unit}) over ${periodWords(basis.period)}; until then ${latest}`;
}

/** What is paid for a metal, at what price, and its refining charge. */
export function metalSentences(metal: MetalTerms, terms: Terms): { clause: string; sentence: string }[] {
  const unit = terms.assays.find((rule) => rule.element === metal.metal)?.unit ?? '';
  const { price, refining } = metal;
  const clause = `Payment for ${metal.metal}`;
  const least = metal.minimumGrade === null ? '' : ` Below ${metal.minimumGrade} ${unit} nothing is paid.`;
  const order = metal.order === 'content' ? ' It is worked on the metal contained.' : '';
  const own = metal.rounding === null ? '' : ` Metal is rounded ${roundingSentence(metal.rounding)}.`;
  const part = Number(price.paidFrac) === 1 ? '' : ` ${percentText(price.paidFrac)} of the price is paid.`;
  const less =
    Number(price.reduction) === 0
      ? ''
      : ` The price is reduced by ${grouped(price.reduction)} ${terms.currency}/${price.unit}.`;
  const { minimumDeduction = null } = metal;
  const keep =
    minimumDeduction === null
      ? ''
      : ` At least ${grouped(minimumDeduction)} ${unit} of the assay ${Number(minimumDeduction) === 1 ? 'is' : 'are'} not paid.`;
  const { floor = null, cap = null } = price;
  const between = [
    ...(floor === null ? [] : [`no less than ${grouped(floor)}`]),
    ...(cap === null ? [] : [`no more than ${grouped(cap)}`]),
  ];
  const limits = between.length === 0 ? '' : ` Paid for is ${list(between)} ${terms.currency}/${price.unit}.`;
  const sentences = [
    { clause, sentence: `Paid is ${payableWords(metal, unit, terms)}.${keep}${least}${order}${own}` },
    {
      clause,
      sentence: `The price is ${basisWords(price.basis, price.currency ?? terms.currency, price.unit, unit)}.${limits}${part}${less}`,
    },
  ];
  if (refining === null) return sentences;
  const name = `Refining of ${metal.metal}`;
  const how = refining.kind === 'price-reduction' ? 'taken off the price' : 'charged on the payable metal';
  sentences.push({
    clause,
    sentence: `${name} is ${grouped(refining.rate)} ${terms.currency}/${price.unit}, ${how}.`,
  });
  for (const escalator of refining.escalators) {
    sentences.push({ clause, sentence: escalatorSentence(escalator, name, price.unit, terms) });
  }
  return sentences;
}
