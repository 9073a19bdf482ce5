import { priceOn } from '../books/batch-cost.ts';
import { cupelsPerKg } from './cupels.ts';
import { LEAD_IN_LITHARGE_FRAC } from './in-house-option.ts';
import type { SupplyFacts, TreatmentFacts } from './records.ts';

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

export interface TreatmentCost {
  /** Money per kg of dry concentrate; lead that comes back is negative, at the likely return. */
  lines: { label: string; costPerKg: number }[];
  /** Money per kg; low is at the high lead return. Null while anything cannot be priced. */
  totalPerKg: { low: number; likely: number; high: number } | null;
  /** What cannot be priced, one sentence each. */
  faults: string[];
}

/**
 * What a full charge costs, per kg of dry concentrate, at the prices of a day.
 *
 * cost = Σ recipe g/100 g × price/kg + (fuel + labour hours × wage + crucible price ÷ its life) ÷ charge kg
 *        + cupels for the button's lead + waste − (lead + 0.9283 × litharge) kg/kg × lead return × lead price
 *
 * The lead of the litharge comes back as lead (PbO, from the atomic weights). A last charge that is not full
 * costs as much as a full one, so a batch can cost more than its mass times this. A supply without a price,
 * priced in another currency or bought by another unit is a fault, never a zero. Source: common practice.
 */
export function treatmentCost(
  treatment: CostedTreatment,
  { supplies, on, currency }: { supplies: readonly SupplyFacts[]; on: string; currency: string },
): TreatmentCost {
  const lines: TreatmentCost['lines'] = [];
  const faults: string[] = [];
  const find = (id: string | null) => supplies.find((supply) => supply.id === id);
  const priceOf = (supply: SupplyFacts, perUnit: SupplyFacts['unit']): number => {
    const [inForce] = supply.prices
      .filter((one) => one.effectiveOn <= on)
      .toSorted((a, b) => b.effectiveOn.localeCompare(a.effectiveOn));
    if (supply.unit !== perUnit)
      faults.push(`${supply.name} is bought by the ${supply.unit}, and is needed by the ${perUnit}.`);
    else if (inForce === undefined) faults.push(`${supply.name} has no price yet.`);
    else if (inForce.currency !== currency)
      faults.push(`${supply.name} is priced in ${inForce.currency}, not in ${currency}.`);
    return Number(inForce?.price ?? 0);
  };
  const add = (label: string, costPerKg: number): void => void lines.push({ label, costPerKg });

  let leadKgPerKg = 0;
  let leadSupply: SupplyFacts | undefined;
  for (const { supplyId, gramsPerHundredG } of treatment.recipe) {
    const supply = find(supplyId);
    if (supply === undefined) {
      faults.push('The recipe names a supply that is not on the list.');
      continue;
    }
    const kgPerKg = Number(gramsPerHundredG) / 100;
    add(supply.name, kgPerKg * priceOf(supply, 'kg'));
    if (supply.kind === 'lead') {
      leadKgPerKg += kgPerKg;
      leadSupply ??= supply;
    } else if (supply.kind === 'litharge') leadKgPerKg += kgPerKg * LEAD_IN_LITHARGE_FRAC;
  }

  const { chargeSizeKg } = treatment;
  const fuel = find(treatment.fuelSupplyId);
  if (fuel !== undefined) add(fuel.name, (treatment.fuelPerCharge * priceOf(fuel, fuel.unit)) / chargeSizeKg);
  else if (treatment.fuelPerCharge > 0) faults.push('Fuel is burnt, but which is not named.');
  const crucible = find(treatment.crucibleSupplyId);
  if (crucible !== undefined)
    add(crucible.name, priceOf(crucible, 'each') / treatment.crucibleLifeCharges / chargeSizeKg);
  const cupel = find(treatment.cupelSupplyId ?? null);
  if (cupel !== undefined) {
    const { count, fault } = cupelsPerKg(cupel, leadKgPerKg * treatment.leadReturnModeFrac);
    if (fault !== null) faults.push(`${fault}.`);
    add(cupel.name, count * priceOf(cupel, 'each'));
  }
  const labour = find(treatment.labourSupplyId);
  if (labour !== undefined)
    add(labour.name, (treatment.labourHoursPerCharge * priceOf(labour, 'h')) / chargeSizeKg);
  else if (treatment.labourHoursPerCharge > 0) faults.push('Labour is needed, but whose wage is not named.');
  add('Waste disposal', Number(treatment.wasteCostPerKg));

  let leadPricePerKg = 0;
  if (leadKgPerKg > 0) {
    const inHand = leadSupply ?? supplies.find((supply) => supply.kind === 'lead');
    if (inHand === undefined)
      faults.push('Lead is not among the supplies, so the lead that comes back has no price.');
    else leadPricePerKg = leadSupply === undefined ? priceOf(inHand, 'kg') : Number(priceOn(inHand, on) ?? 0);
  }
  const leadBack = (returnFrac: number): number => leadKgPerKg * returnFrac * leadPricePerKg;
  const outlay = lines.reduce((sum, { costPerKg }) => sum + costPerKg, 0);
  if (leadKgPerKg > 0) add('Lead back', -leadBack(treatment.leadReturnModeFrac));
  return {
    lines,
    totalPerKg:
      faults.length > 0
        ? null
        : {
            low: outlay - leadBack(treatment.leadReturnHighFrac),
            likely: outlay - leadBack(treatment.leadReturnModeFrac),
            high: outlay - leadBack(treatment.leadReturnLowFrac),
          },
    faults,
  };
}
