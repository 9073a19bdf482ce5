import { Dec, grouped, type DecimalNumber } from '../money.ts';
import type { MetalTerms, SimplePayableForm, SlidingForm } from '../terms/metal-terms.ts';
import { figure, shown, type Figure } from './figure.ts';
import { addLine, type SettlementRun } from './run.ts';

/**
 * The simple form that a sliding one comes to at a grade: figure + (grade − from) ÷ step × change, below
 * `from` the other way, within its least and greatest. A fraction is worked in percent. It is rounded as
 * payable grades are and prints as a line of its own. Null where the grade it slides with is missing.
 */
export function slidForm(
  run: SettlementRun,
  metal: MetalTerms,
  sliding: SlidingForm,
  assay: Figure,
): SimplePayableForm | null {
  const grade = sliding.by === null ? assay : run.assays.get(sliding.by);
  if (grade === undefined) return null;
  const isPaid = sliding.slides === 'paidFrac';
  const written = (text: string) => (isPaid ? new Dec(text).times(100).toFixed() : text);
  const base = written(isPaid ? sliding.form.paidFrac : sliding.form.deduction);
  const raw = slid({ ...sliding, base, change: written(sliding.change), grade: grade.text });
  const within = limited(raw, {
    least: sliding.minimum === null ? '0' : written(sliding.minimum),
    most: sliding.maximum === null ? (isPaid ? '100' : null) : written(sliding.maximum),
  });
  const result = figure(within.value, run.terms.rounding.payableGrade, isPaid ? 'percent' : assay.unit);
  addLine(run, {
    id: `payable/${metal.metal}/sliding`,
    section: 'payable',
    label: `${metal.metal}, ${isPaid ? 'part paid' : 'deduction'} by the sliding scale`,
    working: `${sliding.by ?? metal.metal} at ${shown(grade)}, in ${isPaid ? 'percent' : shownUnit(assay)}: ${within.expression} = ${shown(result)}`,
    quantity: grade,
    result,
  });
  return isPaid
    ? { ...sliding.form, paidFrac: result.value.div(100).toFixed() }
    : { ...sliding.form, deduction: result.text };
}

function shownUnit({ unit }: Figure): string {
  return unit === 'percent' ? 'percent' : unit;
}

interface Worked {
  value: DecimalNumber;
  expression: string;
}

function slid(of: {
  base: string;
  fromGrade: string;
  step: string;
  change: string;
  counting: SlidingForm['counting'];
  grade: string;
}): Worked {
  const above = new Dec(of.grade).gte(of.fromGrade);
  const [upper, lower] = above ? [of.grade, of.fromGrade] : [of.fromGrade, of.grade];
  const exact = new Dec(upper).minus(lower).div(of.step);
  const steps = of.counting === 'whole-steps' ? exact.floor() : exact;
  const change = steps.times(of.change).times(above ? 1 : -1);
  const falls = new Dec(of.change).isNegative() === above;
  const difference = `(${grouped(upper)} − ${grouped(lower)}) ÷ ${grouped(of.step)}`;
  const counted = of.counting === 'whole-steps' ? `whole steps in (${difference})` : difference;
  const rate = grouped(new Dec(of.change).abs().toFixed());
  return {
    value: new Dec(of.base).plus(change),
    expression: `${grouped(of.base)} ${falls ? '−' : '+'} ${counted} × ${rate}`,
  };
}

/** A limit prints only where it binds. */
function limited(raw: Worked, { least, most }: { least: string; most: string | null }): Worked {
  if (raw.value.lt(least))
    return { value: new Dec(least), expression: `greater of ${grouped(least)} and (${raw.expression})` };
  if (most !== null && raw.value.gt(most))
    return { value: new Dec(most), expression: `lesser of ${grouped(most)} and (${raw.expression})` };
  return raw;
}
