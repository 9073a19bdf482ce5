import { Dec, type DecimalNumber } from '../money.ts';
import { conversionText, convert, metalConversion } from '../terms/conversion.ts';
import type { MetalTerms } from '../terms/metal-terms.ts';
import { percentText } from '../terms/payable-form.ts';
import type { GradeUnit } from '../terms/term-units.ts';
import { figure, shown, type Figure } from './figure.ts';
import { netPrice, refiningRateOf } from './prices.ts';
import { addLine, addProductLine, blocker, massFor, money, type SettlementRun } from './run.ts';

/**
 * Worth of one metal's payable mass: mass × net price, or value per tonne × settlement
 * mass where the contract values so, or no money where metal is returned.
 */
export function valueLine(
  run: SettlementRun,
  metal: MetalTerms,
  payable: Figure,
  perTonneGrade: Figure | null,
) {
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
