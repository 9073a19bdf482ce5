import { Dec, grouped, type DecimalNumber } from '../money.ts';
import type { PayableForm, SimplePayableForm } from './metal-terms.ts';

/** What is payable out of an assay or of a metal content, with the arithmetic as it prints. */
export interface Payable {
  value: DecimalNumber;
  expression: string;
}

/** A fraction as it prints: '0.97' gives `97 %`. */
export function percentText(fraction: string | DecimalNumber): string {
  return `${grouped(new Dec(fraction).times(100).toFixed())} %`;
}

function simplePayable(form: SimplePayableForm, amount: DecimalNumber, deduction: DecimalNumber): Payable {
  const a = grouped(amount.toFixed());
  const d = grouped(deduction.toFixed());
  const p = percentText(form.paidFrac);
  const value = {
    'lesser-of': Dec.min(amount.times(form.paidFrac), amount.minus(deduction)),
    'unit-then-percent': amount.minus(deduction).times(form.paidFrac),
    'percent-then-unit': amount.times(form.paidFrac).minus(deduction),
  }[form.kind];
  const expression = deduction.isZero()
    ? `${a} × ${p}`
    : {
        'lesser-of': `lesser of (${a} × ${p}) and (${a} − ${d})`,
        'unit-then-percent': `(${a} − ${d}) × ${p}`,
        'percent-then-unit': `${a} × ${p} − ${d}`,
      }[form.kind];
  return value.isNegative() && !value.isZero()
    ? { value: new Dec(0), expression: `greater of 0 and (${expression})` }
    : { value, expression };
}

/**
 * Payable part of `amount` by a form of payment. `grade` chooses steps and bands
 * (the assay); `perGrade` turns a level or deduction in the assay's unit into the
 * unit of `amount`: the identity where the form is applied to the grade itself,
 * mass × level where it is applied to the metal contained. Never below zero.
 */
export function payableOf({
  form,
  amount,
  grade,
  perGrade,
}: {
  form: PayableForm;
  amount: DecimalNumber;
  grade: DecimalNumber;
  perGrade: (level: string) => DecimalNumber;
}): Payable {
  if (form.kind === 'steps') {
    const step = form.steps.filter(({ fromGrade }) => grade.gte(fromGrade)).at(-1);
    if (step === undefined) return { value: new Dec(0), expression: '0' };
    return simplePayable(step.form, amount, perGrade(step.form.deduction));
  }
  if (form.kind === 'bands') {
    let value = new Dec(0);
    const parts: string[] = [];
    form.bands.forEach((band, index) => {
      const next = form.bands[index + 1];
      const from = perGrade(band.fromGrade);
      const to = next === undefined ? amount : Dec.min(amount, perGrade(next.fromGrade));
      if (to.lte(from)) return;
      value = value.plus(to.minus(from).times(band.paidFrac));
      parts.push(`(${grouped(to.toFixed())} − ${grouped(from.toFixed())}) × ${percentText(band.paidFrac)}`);
    });
    return { value, expression: parts.length === 0 ? '0' : parts.join(' + ') };
  }
  return simplePayable(form, amount, perGrade(form.deduction));
}
