import { atomicWeights } from '../smelting/atomic-weights.ts';
import type { Assumptions } from './assumptions.ts';
import { cupelsPerKg } from './cupels.ts';
import type { SupplyFacts, TreatmentFacts } from './records.ts';

/** Lead in litharge (PbO), as a fraction of its mass, from the atomic weights. */
const LEAD_IN_LITHARGE_FRAC = atomicWeights.Pb / (atomicWeights.Pb + atomicWeights.O);

/** What of a treatment decides its cost. */
export type CostedTreatment = Pick<
  TreatmentFacts,
  | 'recipe'
  | 'chargeSizeKg'
  | 'labourHoursPerCharge'
  | 'labourSupplyId'
  | 'fuelSupplyId'
  | 'fuelPerCharge'
  | 'crucibleSupplyId'
  | 'crucibleLifeCharges'
  | 'cupelSupplyId'
  | 'leadReturnLowFrac'
  | 'leadReturnModeFrac'
  | 'leadReturnHighFrac'
  | 'wasteCostPerKg'
>;

/** The books that price a treatment. */
export interface PriceList {
  supplies: readonly SupplyFacts[];
  on: string;
  currency: string;
}

/** What a what-if changes of the prices. */
export type PriceChanges = Pick<
  Assumptions,
  'wagePerHour' | 'leadPricePerKg' | 'fuelPriceFactor' | 'reagentPriceFactor'
>;

const AS_IN_THE_BOOKS: PriceChanges = {
  wagePerHour: null,
  leadPricePerKg: null,
  fuelPriceFactor: 1,
  reagentPriceFactor: 1,
};

/** Something used up by each charge, with what a charge of it costs; null where the treatment takes none. */
type PerCharge = { name: string; costPerCharge: number } | null;

/** What a treatment takes, priced. Money in the currency of the list. */
export interface TreatmentNeeds {
  /** Lines of the recipe, per kg of dry concentrate. */
  recipe: { name: string; kind: SupplyFacts['kind']; costPerKg: number }[];
  lead: {
    /** Collector and the lead of litharge, kg per kg of dry concentrate. */
    inKgPerKg: number;
    /** What a kg of lead is worth that comes back; 0 where none goes in. */
    pricePerKg: number;
  };
  fuel: PerCharge;
  crucible: PerCharge;
  cupels: PerCharge;
  /** Null: no wage is named. */
  labour: { name: string; wagePerHour: number } | null;
  /** What cannot be priced, one clause each, without a full stop. */
  faults: string[];
}

/** Prices of the day; a supply that cannot be priced is a fault, never a zero that goes unsaid. */
function pricer({ on, currency }: PriceList, faults: string[]) {
  return (supply: SupplyFacts, perUnit: SupplyFacts['unit']): number => {
    const [inForce] = supply.prices
      .filter((one) => one.effectiveOn <= on)
      .toSorted((a, b) => b.effectiveOn.localeCompare(a.effectiveOn));
    if (supply.unit !== perUnit)
      faults.push(`${supply.name} is bought by the ${supply.unit}, and is needed by the ${perUnit}`);
    else if (inForce === undefined) faults.push(`${supply.name} has no price on or before ${on}`);
    else if (inForce.currency !== currency)
      faults.push(`${supply.name} is priced in ${inForce.currency}; prices are reckoned in ${currency}`);
    return Number(inForce?.price ?? 0);
  };
}

/**
 * What a treatment takes for a kg of dry concentrate and for a charge, at the prices of a day: the one
 * reckoning that the decision, its what-ifs and the treatment's own page rest on.
 *
 * recipe: g/100 g ÷ 100 × price/kg; lead in = lead + 0.9283 × litharge (PbO, from the atomic weights);
 * fuel per charge × its price; crucible price ÷ its life; cupels for the lead of the likely button (`cupelsPerKg`).
 * Lead that comes back is worth what lead costs: that of the recipe, else the first on the list. Common practice.
 */
export function treatmentNeeds(
  treatment: CostedTreatment,
  list: PriceList,
  changes: PriceChanges = AS_IN_THE_BOOKS,
): TreatmentNeeds {
  const faults: string[] = [];
  const priceOf = pricer(list, faults);
  const find = (id: string | null) => list.supplies.find((supply) => supply.id === id);
  const ofRecipe = treatment.recipe.flatMap(({ supplyId, gramsPerHundredG }) => {
    const supply = find(supplyId);
    if (supply === undefined) faults.push('its recipe names a supply that is not on the list');
    return supply === undefined ? [] : [{ supply, kgPerKg: Number(gramsPerHundredG) / 100 }];
  });
  const inKgPerKg = ofRecipe.reduce((sum, { supply: { kind }, kgPerKg }) => {
    if (kind === 'lead') return sum + kgPerKg;
    return kind === 'litharge' ? sum + kgPerKg * LEAD_IN_LITHARGE_FRAC : sum;
  }, 0);

  const leadOnList =
    ofRecipe.find(({ supply }) => supply.kind === 'lead')?.supply ??
    list.supplies.find((supply) => supply.kind === 'lead');
  let leadPricePerKg = 0;
  if (inKgPerKg > 0) {
    if (changes.leadPricePerKg !== null) leadPricePerKg = changes.leadPricePerKg;
    else if (leadOnList !== undefined) leadPricePerKg = priceOf(leadOnList, 'kg');
    else faults.push('lead is not among the supplies, so lead that comes back has no price');
  }
  const pricePerKg = (supply: SupplyFacts): number => {
    if (supply.kind === 'lead') return leadPricePerKg;
    return priceOf(supply, 'kg') * (supply.kind === 'litharge' ? 1 : changes.reagentPriceFactor);
  };
  const recipe = ofRecipe.map(({ supply, kgPerKg }) => ({
    name: supply.name,
    kind: supply.kind,
    costPerKg: kgPerKg * pricePerKg(supply),
  }));

  const burnt = find(treatment.fuelSupplyId);
  if (burnt === undefined && treatment.fuelPerCharge > 0) faults.push('it burns fuel, but names none');
  const fuelPrice = burnt === undefined ? 0 : priceOf(burnt, burnt.unit) * changes.fuelPriceFactor;
  const pot = find(treatment.crucibleSupplyId);
  const cupel = find(treatment.cupelSupplyId ?? null);
  let cupels: PerCharge = null;
  if (cupel !== undefined) {
    const { count, fault } = cupelsPerKg(cupel, inKgPerKg * treatment.leadReturnModeFrac);
    if (fault !== null) faults.push(fault);
    const costPerCharge = count * treatment.chargeSizeKg * priceOf(cupel, 'each');
    cupels = { name: cupel.name, costPerCharge };
  }
  const paid = find(treatment.labourSupplyId);
  const wage = changes.wagePerHour ?? (paid === undefined ? null : priceOf(paid, 'h'));
  if (wage === null && treatment.labourHoursPerCharge > 0) faults.push('it needs labour, but names no wage');
  return {
    recipe,
    lead: { inKgPerKg, pricePerKg: leadPricePerKg },
    fuel:
      burnt === undefined ? null : { name: burnt.name, costPerCharge: treatment.fuelPerCharge * fuelPrice },
    crucible:
      pot === undefined
        ? null
        : { name: pot.name, costPerCharge: priceOf(pot, 'each') / treatment.crucibleLifeCharges },
    cupels,
    labour: wage === null ? null : { name: paid?.name ?? 'Labour', wagePerHour: wage },
    faults: [...new Set(faults)],
  };
}
