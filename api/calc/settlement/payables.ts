import { Dec, grouped, type DecimalNumber } from '../money.ts';
import { conversionText, convert, metalConversion } from '../terms/conversion.ts';
import type { MetalTerms } from '../terms/metal-terms.ts';
import { payableOf, percentText } from '../terms/payable-form.ts';
import type { GradeUnit, MassUnit } from '../terms/term-units.ts';
import { figure, given, shown, type Figure } from './figure.ts';
import { netPrice, refiningRateOf } from './prices.ts';
import { addLine, addProductLine, blocker, massFor, money, type SettlementRun } from './run.ts';

/** Payable metal of every metal, its value, and the refining charges reckoned on it. */
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
  if (metal.minimumGrade !== null && assay.value.lt(metal.minimumGrade)) {
    nothingPaid(run, metal, assay);
    return;
  }
  const perTonne = valuation.kind === 'per-tonne' && run.terms.settledIn === 'money';
  if (metal.order === 'grade') {
    const grade = payableGrade(run, metal, assay);
    const payable = metalFrom(run, metal, mass, grade, 'metal', `${metal.metal} payable`);
    const returned = afterTollShare(run, metal, payable);
    valueLine(run, metal, returned, perTonne ? grade : null);
  } else {
    const contained = metalFrom(run, metal, mass, assay, 'contained', `${metal.metal} contained`);
    const payable = payableContent(run, metal, assay, mass, contained);
    valueLine(run, metal, afterTollShare(run, metal, payable), null);
  }
}

function nothingPaid(run: SettlementRun, metal: MetalTerms, assay: Figure) {
  const none = figure(new Dec(0), metalRounding(run, metal), metal.price.unit);
  addLine(run, {
    id: `payable/${metal.metal}`,
    section: 'payable',
    label: `${metal.metal}, nothing payable`,
    working: `${shown(assay)} is below ${grouped(metal.minimumGrade ?? '0')}, the least that is paid for`,
    quantity: none,
    amount: run.terms.settledIn === 'money' ? new Dec(0) : null,
  });
  run.payables.set(metal.metal, { mass: none, value: new Dec(0) });
}

function metalRounding(run: SettlementRun, metal: MetalTerms) {
  return metal.rounding ?? run.terms.rounding.payableMetal;
}

function payableGrade(run: SettlementRun, metal: MetalTerms, assay: Figure): Figure {
  const payable = payableOf({
    form: metal.form,
    amount: assay.value,
    grade: assay.value,
    perGrade: (level) => new Dec(level),
  });
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
): Figure {
  const levels = new Map<string, Figure>();
  const perGrade = (level: string): DecimalNumber => {
    if (new Dec(level).isZero()) return new Dec(0);
    const known = levels.get(level);
    if (known !== undefined) return known.value;
    const made = metalFrom(
      run,
      metal,
      mass,
      given(level, assay.unit),
      `at-${level}`,
      `${metal.metal}, metal at ${level} ${assay.unit}`,
    );
    levels.set(level, made);
    return made.value;
  };
  const payable = payableOf({ form: metal.form, amount: contained.value, grade: assay.value, perGrade });
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

function valueLine(run: SettlementRun, metal: MetalTerms, payable: Figure, perTonneGrade: Figure | null) {
  const id = `payable/${metal.metal}`;
  if (run.terms.settledIn === 'metal') {
    addLine(run, {
      id,
      section: 'payable',
      label: `${metal.metal} returned as metal`,
      working: shown(payable),
      quantity: payable,
      result: payable,
    });
    run.payables.set(metal.metal, { mass: payable, value: null });
    return;
  }
  if (payable.value.isZero() && perTonneGrade === null) {
    addLine(run, {
      id,
      section: 'payable',
      label: `${metal.metal}, nothing payable`,
      working: shown(payable),
      quantity: payable,
      amount: new Dec(0),
    });
    run.payables.set(metal.metal, { mass: payable, value: new Dec(0) });
    return;
  }
  const price = netPrice(run, metal);
  if (price === null) return;
  const value =
    perTonneGrade === null
      ? addProductLine(run, {
          id,
          section: 'payable',
          label: `${metal.metal} paid`,
          sign: 1,
          quantity: payable,
          rate: price,
        })
      : perTonneValue(run, metal, perTonneGrade, price);
  if (value !== null) run.payables.set(metal.metal, { mass: payable, value });
}

function perTonneValue(
  run: SettlementRun,
  metal: MetalTerms,
  grade: Figure,
  price: Figure,
): DecimalNumber | null {
  const { valuation, factors, rounding, currency, tollShareFrac } = run.terms;
  if (valuation.kind !== 'per-tonne') return null;
  const mass = massFor(run, 'settlement', valuation.unit, '/terms/valuation');
  if (mass === null) return null;
  const conversion = metalConversion(valuation.unit, grade.unit as GradeUnit, metal.price.unit);
  const keep = new Dec(1).minus(tollShareFrac);
  const exact = convert(grade.value.times(price.value), conversion, factors).times(keep);
  const rate = figure(exact, rounding.perTonneValue, `${currency}/${valuation.unit}`);
  const signs = grade.unit === 'percent' ? 1 : 0;
  const share = keep.eq(1) ? '' : ` × (100 % − ${percentText(tollShareFrac)})`;
  addLine(run, {
    id: `payable/${metal.metal}/per-tonne`,
    section: 'payable',
    label: `${metal.metal} per ${valuation.unit}`,
    working: `${shown(grade)}${conversionText(conversion, factors, signs)} × ${shown(price)}${share} = ${shown(rate)}`,
    quantity: grade,
    rate: price,
    result: rate,
  });
  run.perTonneRates.push(rate.value);
  return addProductLine(run, {
    id: `payable/${metal.metal}`,
    section: 'payable',
    label: `${metal.metal} paid`,
    sign: 1,
    quantity: mass,
    rate,
  });
}

/** Refining charges per unit of payable metal, in the section of the charges. */
export function workRefining(run: SettlementRun): void {
  for (const metal of run.terms.metals) {
    const payable = run.payables.get(metal.metal);
    if (metal.refining?.kind !== 'per-payable-unit' || payable === undefined) continue;
    const rate = refiningRateOf(run, metal);
    if (rate === null) continue;
    addProductLine(run, {
      id: `charges/refining/${metal.metal}`,
      section: 'charges',
      label: `Refining of ${metal.metal}`,
      sign: -1,
      quantity: payable.mass,
      rate,
    });
  }
}

/**
 * Value of all payable metal, for clauses that are reckoned on it: the amounts paid,
 * or where metal is returned its worth at the net price. Null where a part is missing.
 */
export function payableValue(run: SettlementRun): DecimalNumber | null {
  let total = new Dec(0);
  for (const metal of run.terms.metals) {
    const payable = run.payables.get(metal.metal);
    if (payable === undefined) return null;
    if (payable.value === null) {
      const price = netPrice(run, metal);
      if (price === null) {
        blocker(
          run,
          'value-needs-price',
          '/prices',
          `A charge is reckoned on the value of the metal, and ${metal.metal} has no price.`,
        );
        return null;
      }
      payable.value = money(run, payable.mass.value.times(price.value)).value;
      addLine(run, {
        id: `payable/${metal.metal}/value`,
        section: 'payable',
        label: `Worth of the ${metal.metal} returned`,
        working: `${shown(payable.mass)} × ${shown(price)} = ${shown(money(run, payable.value))}`,
        quantity: payable.mass,
        rate: price,
        result: money(run, payable.value),
      });
    }
    total = total.plus(payable.value);
  }
  return total;
}
