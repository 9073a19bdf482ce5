import type { MineralShare } from './minerals.ts';
import type { ReagentMasses } from './oxygen-balance.ts';
import type { Reagent } from './reagents.ts';
import { reagentByName } from './reagents.ts';

export type SupplyKind =
  'reagent' | 'lead' | 'litharge' | 'iron' | 'fuel' | 'crucible' | 'cupel' | 'labour' | 'other';

export interface RecipeLine {
  supplyId: string;
  name: string;
  kind: SupplyKind;
  /** Decimal text; per 100 g of concentrate as received. */
  gramsPerHundredG: string;
}

export interface ChargeSheetInput {
  /** Dry mass of the batch, decimal text. */
  dryMassKg: string;
  /** Of the lot; empty where not known. */
  minerals: readonly MineralShare[];
  treatment: {
    roast: boolean;
    recipe: readonly RecipeLine[];
    /** Concentrate as received in a full charge. */
    chargeSizeKg: number;
    roastHoursPerCharge: number;
    furnaceHoursPerCharge: number;
    labourHoursPerCharge: number;
    fuelPerCharge: number;
    crucibleLifeCharges: number;
    leadReturnLowFrac: number;
    leadReturnModeFrac: number;
    leadReturnHighFrac: number;
  };
  fuel: { name: string; unit: string } | null;
  crucible: { name: string; volumeMl: number | null } | null;
  /** A cupel and the lead that it can take up; null: cupels are left out, with a note. */
  cupel: { name: string; leadCapacityG: number } | null;
  /** Concentrate in one roast pan; null: one pan load for each charge. */
  roastPanKg: number | null;
  /** What the scale on the bench can show, decimal text such as '1'. */
  weighingStepG: string;
}

/** The reagent that a line of the recipe is, as far as its kind or its name tells. */
export function reagentOfLine({ kind, name }: Pick<RecipeLine, 'kind' | 'name'>): Reagent | null {
  return kind === 'lead' || kind === 'litharge' || kind === 'iron' ? kind : reagentByName(name);
}

/** Reagents of a recipe for a mass of concentrate, g; lines that are no known reagent are left out. */
export function reagentMasses(recipe: readonly RecipeLine[], concentrateG: number): ReagentMasses {
  const masses: Partial<Record<Reagent, number>> = {};
  for (const line of recipe) {
    const reagent = reagentOfLine(line);
    if (reagent === null) continue;
    masses[reagent] = (masses[reagent] ?? 0) + (Number(line.gramsPerHundredG) * concentrateG) / 100;
  }
  return masses;
}
