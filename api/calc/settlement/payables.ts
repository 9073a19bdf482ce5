import { Dec, grouped } from '../money.ts';
import { conversionText, convert, metalConversion } from '../terms/conversion.ts';
import type { MetalTerms } from '../terms/metal-terms.ts';
import { leastGradePaid } from '../terms/price-bases.ts';
import { payableOf, percentText, type Payable } from '../terms/payable-form.ts';
import type { GradeUnit, MassUnit } from '../terms/term-units.ts';
import { figure, given, shown, type Figure } from './figure.ts';
import { valueLine } from './payable-value.ts';
import { slidForm } from './sliding.ts';
import { addLine, type SettlementRun } from './run.ts';

/** Payable metal of every metal and its value. */
export function workPayables(run: SettlementRun): void {
  for (const metal of run.terms.metals) {
    const assay = run.assays.get(metal.metal);
    const mass = run.masses.settlement;
    if (assay === undefined || mass === undefined) continue;
    workMetal(run, metal, assay, mass);
  }
}

function workMetal(run: SettlementRun, metal: MetalTerms, assay: Figure, mass: Figure) {
  const { valuation } = run.terms;
  const least = leastGradePaid(metal);
  if (least !== null && assay.value.lt(least)) {
    nothingPaid(run, metal, assay, least);
    return;
  }
  const perTonne = valuation.kind === 'per-tonne' && run.terms.settledIn === 'money';
  if (metal.order === 'grade') {
    const grade = payableGrade(run, metal, assay);
    if (grade === null) return;
    const payable = metalFrom(run, metal, mass, grade, 'metal', `${metal.metal} payable`);
    const returned = afterTollShare(run, metal, payable);
    valueLine(run, metal, returned, perTonne ? grade : null);
  } else {
    const contained = metalFrom(run, metal, mass, assay, 'contained', `${metal.metal} contained`);
    const payable = payableContent(run, metal, assay, mass, contained);
    if (payable === null) return;
    valueLine(run, metal, afterTollShare(run, metal, payable), null);
  }
}

function nothingPaid(run: SettlementRun, metal: MetalTerms, assay: Figure, least: string) {
  const none = figure(new Dec(0), metalRounding(run, metal), metal.price.unit);
  addLine(run, {
    id: `payable/${metal.metal}`,
    section: 'payable',
    label: `${metal.metal}, nothing payable`,
    working: `${shown(assay)} is below ${grouped(least)}, the least that is paid for`,
    quantity: none,
    amount: run.terms.settledIn === 'money' ? new Dec(0) : null,
  });
  run.payables.set(metal.metal, { mass: none, value: new Dec(0) });
}

function metalRounding(run: SettlementRun, metal: MetalTerms) {
  return metal.rounding ?? run.terms.rounding.payableMetal;
}

/** The metal's form at its assays, a sliding one worked first; null where a grade it needs is missing. */
function payableBy(
  run: SettlementRun,
  metal: MetalTerms,
  assay: Figure,
  of: { amount: string; perGrade: (level: string) => string },
): Payable | null {
  const form = metal.form.kind === 'sliding' ? slidForm(run, metal, metal.form, assay) : metal.form;
  if (form === null) return null;
  const { minimumDeduction } = metal;
  const by = form.kind === 'steps' ? (form.by ?? null) : null;
  if (by === null) return payableOf({ form, grade: assay.text, minimumDeduction, ...of });
  const chooses = run.assays.get(by);
  if (chooses === undefined) return null;
  const payable = payableOf({
    form,
    grade: assay.text,
    stepGrade: chooses.text,
    minimumDeduction,
    ...of,
  });
  return { ...payable, expression: `by ${by} of ${shown(chooses)}: ${payable.expression}` };
}

function payableGrade(run: SettlementRun, metal: MetalTerms, assay: Figure): Figure | null {
  const payable = payableBy(run, metal, assay, { amount: assay.text, perGrade: (level) => level });
  if (payable === null) return null;
  const grade = figure(payable.value, run.terms.rounding.payableGrade, assay.unit);
  addLine(run, {
    id: `payable/${metal.metal}/grade`,
    section: 'payable',
    label: `${metal.metal} payable grade`,
    working: `${payable.expression} = ${shown(grade)}`,
    quantity: assay,
    result: grade,
  });
  return grade;
}

/** Mass × grade in the unit of the price: one line. */
function metalFrom(
  run: SettlementRun,
  metal: MetalTerms,
  mass: Figure,
  grade: Figure,
  part: string,
  label: string,
): Figure {
  const conversion = metalConversion(mass.unit as MassUnit, grade.unit as GradeUnit, metal.price.unit);
  const product = convert(mass.value.times(grade.value), conversion, run.terms.factors);
  const result = figure(product, metalRounding(run, metal), metal.price.unit);
  const signs = grade.unit === 'percent' ? 1 : 0;
  addLine(run, {
    id: `payable/${metal.metal}/${part}`,
    section: 'payable',
    label,
    working: `${shown(mass)} × ${shown(grade)}${conversionText(conversion, run.terms.factors, signs)} = ${shown(result)}`,
    quantity: mass,
    rate: grade,
    result,
  });
  return result;
}

function payableContent(
  run: SettlementRun,
  metal: MetalTerms,
  assay: Figure,
  mass: Figure,
  contained: Figure,
): Figure | null {
  const levels = new Map<string, Figure>();
  const perGrade = (level: string): string => {
    if (new Dec(level).isZero()) return '0';
    const known = levels.get(level);
    if (known !== undefined) return known.text;
    const made = metalFrom(
      run,
      metal,
      mass,
      given(level, assay.unit),
      `at-${level}`,
      `${metal.metal}, metal at ${level} ${assay.unit}`,
    );
    levels.set(level, made);
    return made.text;
  };
  const payable = payableBy(run, metal, assay, { amount: contained.text, perGrade });
  if (payable === null) return null;
  const result = figure(payable.value, metalRounding(run, metal), metal.price.unit);
  addLine(run, {
    id: `payable/${metal.metal}/metal`,
    section: 'payable',
    label: `${metal.metal} payable`,
    working: `${payable.expression} = ${shown(result)}`,
    quantity: contained,
    result,
  });
  return result;
}

function afterTollShare(run: SettlementRun, metal: MetalTerms, payable: Figure): Figure {
  const share = run.terms.tollShareFrac;
  if (new Dec(share).isZero()) return payable;
  const left = figure(
    payable.value.times(new Dec(1).minus(share)),
    metalRounding(run, metal),
    metal.price.unit,
  );
  addLine(run, {
    id: `payable/${metal.metal}/after-toll-share`,
    section: 'payable',
    label: `${metal.metal} after the mill's share of ${percentText(share)}`,
    working: `${shown(payable)} × (100 % − ${percentText(share)}) = ${shown(left)}`,
    quantity: payable,
    result: left,
  });
  return left;
}
