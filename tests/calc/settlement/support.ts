import { expect } from 'vitest';
import { Decimal } from 'decimal.js';
import { halfUp, type RoundingRule } from '../../../api/calc/rounding.ts';
import type { SettlementDates, SettlementInput } from '../../../api/calc/settlement/input.ts';
import type { Settlement, SettlementLine } from '../../../api/calc/settlement/statement.ts';
import type { AssayRule } from '../../../api/calc/terms/assay-terms.ts';
import type { MetalTerms, PayableForm } from '../../../api/calc/terms/metal-terms.ts';
import type { GradeUnit, PriceUnit } from '../../../api/calc/terms/term-units.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { workAgain } from './pocket-calculator.ts';

export const NO_DATES: SettlementDates = {
  shippedOn: null,
  arrivedOn: null,
  weighedOn: null,
  meltedOn: null,
  assaysExchangedOn: null,
  priceDeclaredOn: null,
  statementOn: null,
};

/** Enough decimals that the rounding of a stage is not seen. */
export const UNROUNDED: RoundingRule = halfUp(12);

export function assayRule(element: string, unit: GradeUnit, decimals = 4): AssayRule {
  return { element, unit, rounding: halfUp(decimals), settledBy: { kind: 'buyer' } };
}

export function metal(
  symbol: string,
  unit: PriceUnit,
  price: string,
  form: PayableForm,
  more: Partial<MetalTerms> = {},
): MetalTerms {
  return {
    metal: symbol,
    form,
    minimumGrade: null,
    order: 'grade',
    price: { unit, currency: null, basis: { kind: 'fixed', price }, paidFrac: '1', reduction: '0' },
    refining: null,
    rounding: null,
    ...more,
  };
}

export function assay(element: string, unit: GradeUnit, result: string): SettlementInput['assays'][number] {
  return { element, unit, own: null, buyer: result, umpire: null };
}

export function concentrate(grossKg: string, moistureFrac: string): SettlementInput['parcel'] {
  return { kind: 'concentrate', sublots: [{ name: 'Lot', grossKg, tareKg: '0', moistureFrac }] };
}

export function lineOf(settlement: Settlement, id: string): SettlementLine {
  const line = settlement.lines.find((one) => one.id === id);
  if (line === undefined)
    throw new Error(`no line ${id}; there are ${settlement.lines.map((l) => l.id).join(', ')}`);
  return line;
}

export function amountOf(settlement: Settlement, id: string): string {
  return lineOf(settlement, id).amount ?? '';
}

export function resultOf(settlement: Settlement, id: string): string {
  return lineOf(settlement, id).result?.value ?? '';
}

export function blockersOf(settlement: Settlement): string[] {
  return settlement.findings.filter((f) => f.level === 'blocker').map((f) => f.code);
}

/**
 * Every line works again from its printed text, quantity × rate gives its amount,
 * and the amounts add up to the total: all with the tester's own arithmetic.
 */
export function expectProvable(settlement: Settlement, terms: Terms): void {
  const rules: RoundingRule[] = [
    ...Object.values(terms.rounding),
    // A mass in another unit keeps the rule, not the multiple.
    { ...terms.rounding.mass, multipleOf: null },
    ...terms.assays.map((rule) => rule.rounding),
    ...terms.metals.flatMap((m) => (m.rounding === null ? [] : [m.rounding])),
  ];
  let sum = new Decimal(0);
  for (const line of settlement.lines) {
    sum = sum.plus(line.amount ?? 0);
    expectWorksAgain(line, rules);
    if (line.quantity !== null && line.rate !== null && line.amount !== null && line.rate.unit !== '%') {
      const product = new Decimal(line.quantity.value).times(line.rate.value);
      const amount = new Decimal(line.amount).abs().toFixed(settlement.moneyDecimals);
      expect(rounded(product.abs(), terms.rounding.money), line.id).toBe(amount);
    }
  }
  expect(sum.toFixed(settlement.moneyDecimals)).toBe(settlement.total);
}

/** The printed result is what the printed arithmetic gives, exactly or rounded by a rule of the contract. */
function expectWorksAgain(line: SettlementLine, rules: RoundingRule[]): void {
  const again = workAgain(line.working);
  if (again === null) return;
  const { worked, printed, decimals } = again;
  const cutOff: RoundingRule[] = line.working.startsWith('cents cut off')
    ? [{ decimals, rule: 'truncate', multipleOf: null }]
    : [];
  const fits =
    worked.eq(printed) ||
    [...rules, ...cutOff].some((rule) => {
      const same = { ...rule, decimals };
      return rounded(worked, same) === printed.toFixed(decimals);
    });
  expect(fits, `${line.id}: ${line.working} gives ${worked.toFixed(12)}`).toBe(true);
}

function rounded(value: Decimal, { decimals, rule, multipleOf }: RoundingRule): string {
  const modes = {
    'half-up': Decimal.ROUND_HALF_UP,
    'half-even': Decimal.ROUND_HALF_EVEN,
    truncate: Decimal.ROUND_DOWN,
  } as const;
  const exact =
    multipleOf === null
      ? value.toDecimalPlaces(decimals, modes[rule])
      : value.div(multipleOf).toDecimalPlaces(0, modes[rule]).times(multipleOf);
  return (exact.isZero() ? exact.abs() : exact).toFixed(decimals);
}
