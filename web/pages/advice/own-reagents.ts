import { reagentOfLine } from '../../../api/calc/smelting/charge-sheet-input.ts';
import type { Reagent } from '../../../api/calc/smelting/reagents.ts';
import type { Supply } from '../../../api/schemas/supply.ts';

/** The supplies that the smelting arithmetic knows as a reagent, the first of each. */
export function ownReagents(supplies: readonly Supply[]): ReadonlyMap<Reagent, Supply> {
  const own = new Map<Reagent, Supply>();
  for (const supply of supplies) {
    if (!['reagent', 'lead', 'litharge', 'iron'].includes(supply.kind)) continue;
    const reagent = reagentOfLine(supply);
    if (reagent !== null && !own.has(reagent)) own.set(reagent, supply);
  }
  return own;
}
