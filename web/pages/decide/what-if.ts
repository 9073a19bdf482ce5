import type { Assumptions } from '../../../api/calc/facts/assumptions.ts';
import { assumptions as assumptionsSchema } from '../../../api/schemas/decision.ts';
import { editableText, parseDecimal, shiftPoint } from '../../lib/parse-decimal.ts';

/** What the address of the page holds; '' keeps what the records say. */
export const startingWhatIf = {
  lot: '',
  on: '',
  mass: '',
  gold: '',
  silver: '',
  wage: '',
  lead: '',
  fuel: '',
  reagents: '',
  recovery: '',
  freight: '',
};
export type WhatIf = typeof startingWhatIf;

/** The what-if as assumptions; null while something typed cannot be read or cannot be: its field says so. */
export function readWhatIf(whatIf: WhatIf, options: { decimalComma: boolean }): Assumptions | null {
  let readable = true;
  const decimal = (typed: string): string | null => {
    const parsed = parseDecimal(typed, options);
    if (!parsed.ok) readable = false;
    return parsed.ok ? parsed.decimal : null;
  };
  const number = (typed: string): number | null => {
    const read = decimal(typed);
    return read === null ? null : Number(read);
  };
  const percent = (typed: string): number | undefined => {
    const read = decimal(typed);
    return read === null ? undefined : Number(shiftPoint(read, -2));
  };
  const read = assumptionsSchema.safeParse({
    goldPricePerOzt: number(whatIf.gold),
    silverPricePerOzt: number(whatIf.silver),
    wagePerHour: number(whatIf.wage),
    leadPricePerKg: number(whatIf.lead),
    fuelPriceFactor: percent(whatIf.fuel),
    reagentPriceFactor: percent(whatIf.reagents),
    goldRecoveryShiftFrac: percent(whatIf.recovery),
    saleFreightAndAssays: number(whatIf.freight) ?? undefined,
  });
  return readable && read.success ? read.data : null;
}

/** Assumptions as what would be typed for them; what is as the records say stays empty. */
export function writeWhatIf(assumptions: Assumptions, options: { decimalComma: boolean }): WhatIf {
  const text = (value: number | null): string => editableText(value, options);
  /** A fraction in percent, without the last digit's noise of a binary fraction. */
  const percent = (frac: number, unchanged: number): string =>
    frac === unchanged ? '' : text(Number(Number(shiftPoint(String(frac), 2)).toPrecision(12)));
  return {
    ...startingWhatIf,
    gold: text(assumptions.goldPricePerOzt),
    silver: text(assumptions.silverPricePerOzt),
    wage: text(assumptions.wagePerHour),
    lead: text(assumptions.leadPricePerKg),
    fuel: percent(assumptions.fuelPriceFactor, 1),
    reagents: percent(assumptions.reagentPriceFactor, 1),
    recovery: percent(assumptions.goldRecoveryShiftFrac, 0),
    freight: assumptions.saleFreightAndAssays === 0 ? '' : text(assumptions.saleFreightAndAssays),
  };
}
