import { Dec, type DecimalNumber } from '../money.ts';
import type { ChargePurpose, TaxBase, TaxTerms } from '../terms/charge-terms.ts';
import { percentText } from '../terms/payable-form.ts';
import { given, shown } from './figure.ts';
import { payableValue } from './payable-value.ts';
import { addLine, amountsIn, money, slug, type SettlementRun } from './run.ts';

/** Sections that the net value is the sum of. */
export const WORKED_SECTIONS = ['payable', 'charges', 'penalties', 'credits', 'royalties'] as const;

/** Sales and withholding taxes, each on its base, after everything that the net value is made of. */
export function workTaxes(run: SettlementRun): void {
  (run.terms.taxes ?? []).forEach((tax, index) => workTax(run, tax, index));
}

function workTax(run: SettlementRun, tax: TaxTerms, index: number) {
  const value = baseOf(run, tax.base);
  if (value === null) return;
  const base = money(run, Dec.max(0, value));
  const due = money(run, base.value.times(tax.rateFrac));
  const sign = tax.effect === 'added' ? 1 : -1;
  addLine(run, {
    id: `taxes/${index + 1}-${slug(tax.name)}`,
    section: 'taxes',
    label: `${tax.name}, ${percentText(tax.rateFrac)} of ${BASE_WORDS[tax.base.kind]}`,
    working: `${shown(base)} × ${percentText(tax.rateFrac)} = ${shown(due)}`,
    quantity: base,
    rate: given(new Dec(tax.rateFrac).times(100).toFixed(), 'percent'),
    amount: due.value.times(sign),
  });
}

const BASE_WORDS: Record<TaxBase['kind'], string> = {
  'payable-value': 'the payable value',
  'net-value': 'the net value',
  charges: 'charges',
};

/** Null where a part is missing, which is said where it is worked. A base below zero bears no tax. */
function baseOf(run: SettlementRun, base: TaxBase): DecimalNumber | null {
  if (base.kind === 'payable-value') return payableValue(run);
  if (base.kind === 'net-value') return amountsIn(run, ...WORKED_SECTIONS);
  if (base.purposes.length === 0) return amountsIn(run, 'charges').neg();
  return chargesFor(run, base.purposes);
}

/** `charges/freight`, `charges/freight/2`, `charges/refining/Au`: the purpose is the second part of the id. */
function chargesFor(run: SettlementRun, purposes: ChargePurpose[]): DecimalNumber {
  const counted = run.lines.filter(
    ({ id, section, amount }) =>
      section === 'charges' && amount !== null && purposes.some((purpose) => purpose === id.split('/')[1]),
  );
  return counted.reduce((sum, { amount }) => sum.minus(amount ?? 0), new Dec(0));
}
