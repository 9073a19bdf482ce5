import type { Assumptions } from '../../../api/calc/facts/assumptions.ts';
import { assumptions as assumptionsSchema } from '../../../api/schemas/decision.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';

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
  const number = (typed: string): number | null => {
    const parsed = parseDecimal(typed, options);
    if (!parsed.ok) readable = false;
    return parsed.ok && parsed.decimal !== null ? Number(parsed.decimal) : null;
  };
  const percent = (typed: string): number | undefined => {
    const value = number(typed);
    return value === null ? undefined : value / 100;
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
