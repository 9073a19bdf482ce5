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

function simplePayable(form: SimplePayableForm, amount: string, deduction: string): Payable {
  const a = new Dec(amount);
  const [A, d, p] = [grouped(amount), grouped(deduction), percentText(form.paidFrac)];
  const value = {
    'lesser-of': Dec.min(a.times(form.paidFrac), a.minus(deduction)),
    'unit-then-percent': a.minus(deduction).times(form.paidFrac),
    'percent-then-unit': a.times(form.paidFrac).minus(deduction),
  }[form.kind];
  const expression = new Dec(deduction).isZero()
    ? `${A} × ${p}`
    : {
        'lesser-of': `lesser of (${A} × ${p}) and (${A} − ${d})`,
        'unit-then-percent': `(${A} − ${d}) × ${p}`,
        'percent-then-unit': `${A} × ${p} − ${d}`,
      }[form.kind];
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
  form,
  amount,
  grade,
  perGrade,
}: {
  form: PayableForm;
  amount: string;
  grade: string;
  perGrade: (level: string) => string;
}): Payable {
  const nothing = { value: new Dec(0), expression: '0' };
  if (form.kind === 'steps') {
    const step = form.steps.filter(({ fromGrade }) => new Dec(grade).gte(fromGrade)).at(-1);
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
