import { constant, Dec, grouped, keptByText, type DecimalNumber } from '../money.ts';
import type { PayableForm, SimplePayableForm, SlidingForm } from './metal-terms.ts';

/** What is payable out of an assay or of a metal content, with the arithmetic as it prints. */
export interface Payable {
  value: DecimalNumber;
  expression: string;
}

/** A fraction as it prints: '0.97' gives `97 %`. */
export function percentText(fraction: string | DecimalNumber): string {
  return typeof fraction === 'string'
    ? percentOfText(fraction)
    : `${grouped(fraction.times(100).toFixed())} %`;
}

const percentOfText = keptByText((fraction) => `${grouped(new Dec(fraction).times(100).toFixed())} %`);

function simplePayable(form: SimplePayableForm, amount: string, deduction: string): Payable {
  const a = new Dec(amount);
  const [A, d, p] = [grouped(amount), grouped(deduction), percentText(form.paidFrac)];
  const less = constant(deduction);
  const paid = constant(form.paidFrac);
  let value: DecimalNumber;
  let expression: string;
  switch (form.kind) {
    case 'lesser-of':
      value = Dec.min(a.times(paid), a.minus(less));
      expression = `lesser of (${A} × ${p}) and (${A} − ${d})`;
      break;
    case 'unit-then-percent':
      value = a.minus(less).times(paid);
      expression = `(${A} − ${d}) × ${p}`;
      break;
    case 'percent-then-unit':
      value = a.times(paid).minus(less);
      expression = `${A} × ${p} − ${d}`;
  }
  if (less.isZero()) expression = `${A} × ${p}`;
  return value.lt(0)
    ? { value: new Dec(0), expression: `greater of 0 and (${expression})` }
    : { value, expression };
}

/**
 * Payable part of `amount` by a form of payment (lesser of p × A and A − d; (A − d) × p;
 * p × A − d; by step; by band). `grade` chooses steps (the assay); `perGrade` turns a
 * level or deduction in the assay's unit into the unit of `amount`: the identity where
 * the form is applied to the grade itself, mass × level where it is applied to the metal
 * contained. Never below zero. All texts are as they print.
 */
export function payableOf({
  minimumDeduction = null,
  ...of
}: {
  /** A sliding form is one of the others once its figure is known. */
  form: Exclude<PayableForm, SlidingForm>;
  amount: string;
  grade: string;
  perGrade: (level: string) => string;
  /** Assay of the element that chooses the step, where it is another. */
  stepGrade?: string;
  /** At least so much of the assay is not paid, whatever the form. */
  minimumDeduction?: string | null;
}): Payable {
  const payable = payableByForm(of);
  if (minimumDeduction === null || payable.value.isZero()) return payable;
  const least = of.perGrade(minimumDeduction);
  const most = new Dec(of.amount).minus(least);
  const expression = `lesser of (${payable.expression}) and (${grouped(of.amount)} − ${grouped(least)})`;
  return most.lt(0)
    ? { value: new Dec(0), expression: `greater of 0 and (${expression})` }
    : { value: Dec.min(payable.value, most), expression };
}

function payableByForm({
  form,
  amount,
  grade,
  perGrade,
  stepGrade = grade,
}: Omit<Parameters<typeof payableOf>[0], 'minimumDeduction'>): Payable {
  const nothing = { value: new Dec(0), expression: '0' };
  if (form.kind === 'steps') {
    const step = form.steps.filter(({ fromGrade }) => new Dec(stepGrade).gte(fromGrade)).at(-1);
    return step === undefined ? nothing : simplePayable(step.form, amount, perGrade(step.form.deduction));
  }
  if (form.kind === 'bands') {
    let value = new Dec(0);
    const parts: string[] = [];
    form.bands.forEach((band, index) => {
      const next = form.bands[index + 1];
      const from = perGrade(band.fromGrade);
      const reachesNext = next !== undefined && new Dec(grade).gte(next.fromGrade);
      const to = reachesNext ? perGrade(next.fromGrade) : amount;
      const part = new Dec(to).minus(from);
      if (new Dec(grade).lte(band.fromGrade) || part.lte(0)) return;
      value = value.plus(part.times(band.paidFrac));
      parts.push(`(${grouped(to)} − ${grouped(from)}) × ${percentText(band.paidFrac)}`);
    });
    return parts.length === 0 ? nothing : { value, expression: parts.join(' + ') };
  }
  return simplePayable(form, amount, perGrade(form.deduction));
}
