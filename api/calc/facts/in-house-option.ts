import { priceOn } from '../books/batch-cost.ts';
import type { Estimate, InHouseOption } from '../economics/options.ts';
import { atomicWeights } from '../smelting/atomic-weights.ts';
import type { Assumptions } from './assumptions.ts';
import type { DecisionFacts, SupplyFacts, TermsFacts, TreatmentFacts } from './records.ts';
import { cupelsPerKg } from './cupels.ts';
import { daysUntilPaid } from './payment-days.ts';

/** Lead in litharge (PbO), as a fraction of its mass, from the atomic weights. */
export const LEAD_IN_LITHARGE_FRAC = atomicWeights.Pb / (atomicWeights.Pb + atomicWeights.O);

/** What stands in the way of costing a treatment, one sentence each. */
export interface OptionFaults {
  faults: string[];
}

/** Prices of the day in the mill's currency; a supply that cannot be priced is a fault, never a zero. */
function pricer(facts: DecisionFacts, faults: string[]) {
  return (supply: SupplyFacts, perUnit: SupplyFacts['unit']): number => {
    if (supply.unit !== perUnit) {
      faults.push(`${supply.name} is bought by the ${supply.unit}, and is needed by the ${perUnit}`);
      return 0;
    }
    const foreign = supply.prices.find(
      (one) => one.effectiveOn <= facts.on && one.currency !== facts.currency,
    );
    const price = priceOn(supply, facts.on);
    if (price === null) faults.push(`${supply.name} has no price on or before ${facts.on}`);
    if (foreign !== undefined)
      faults.push(
        `${supply.name} is priced in ${foreign.currency}; prices are reckoned in ${facts.currency}`,
      );
    return Number(price ?? 0);
  };
}

/**
 * A treatment under a refiner's terms as an option of the decision: what a kilogram of concentrate needs,
 * from the recipe per 100 g, at the prices of the day. Litharge is counted as a reagent's purchase whose
 * lead (PbO is 92.83 % Pb) joins the collector. Null with the faults that keep it from being costed.
 */
export function inHouseOption(
  treatment: TreatmentFacts,
  terms: TermsFacts,
  facts: DecisionFacts,
  assumptions: Assumptions,
  estimate: Estimate,
): InHouseOption | OptionFaults {
  const faults: string[] = [];
  const onlyRefiner = facts.terms.filter((one) => one.body.material === 'dore').length === 1;
  const priceOf = pricer(facts, faults);
  const find = (id: string | null) => facts.supplies.find((supply) => supply.id === id);

  let reagentCostPerKg = 0;
  let leadKg = 0;
  let lithargeLeadKg = 0;
  let lithargeCost = 0;
  for (const { supplyId, gramsPerHundredG } of treatment.recipe) {
    const supply = find(supplyId);
    if (supply === undefined) {
      faults.push('its recipe names a supply that is not on the list');
      continue;
    }
    const kgPerKg = Number(gramsPerHundredG) / 100;
    if (supply.kind === 'lead') leadKg += kgPerKg;
    else if (supply.kind === 'litharge') {
      lithargeLeadKg += kgPerKg * LEAD_IN_LITHARGE_FRAC;
      lithargeCost += kgPerKg * priceOf(supply, 'kg');
    } else reagentCostPerKg += kgPerKg * priceOf(supply, 'kg') * assumptions.reagentPriceFactor;
  }
  const leadSupply =
    treatment.recipe.map((one) => find(one.supplyId)).find((supply) => supply?.kind === 'lead') ??
    facts.supplies.find((supply) => supply.kind === 'lead');
  if (leadSupply === undefined && leadKg + lithargeLeadKg > 0)
    faults.push('lead is not among the supplies, so lead that comes back has no price');
  const leadPrice = assumptions.leadPricePerKg ?? (leadSupply === undefined ? 0 : priceOf(leadSupply, 'kg'));
  const inKgPerKg = leadKg + lithargeLeadKg;

  const labour = find(treatment.labourSupplyId);
  if (labour === undefined && treatment.labourHoursPerCharge > 0 && assumptions.wagePerHour === null)
    faults.push('it needs labour, but names no wage');
  const fuel = find(treatment.fuelSupplyId);
  if (fuel === undefined && treatment.fuelPerCharge > 0) faults.push('it burns fuel, but names none');
  const crucible = find(treatment.crucibleSupplyId);
  const fuelCost =
    fuel === undefined ? 0 : treatment.fuelPerCharge * priceOf(fuel, fuel.unit) * assumptions.fuelPriceFactor;
  const cupel = find(treatment.cupelSupplyId ?? null);
  let cupelCostPerCharge = 0;
  if (cupel !== undefined) {
    const { count, fault } = cupelsPerKg(cupel, inKgPerKg * treatment.leadReturnModeFrac);
    if (fault !== null) faults.push(fault);
    cupelCostPerCharge = count * treatment.chargeSizeKg * priceOf(cupel, 'each');
  }
  const option: InHouseOption = {
    kind: 'in-house',
    id: `${treatment.id}/${terms.id}`,
    name: onlyRefiner ? treatment.name : `${treatment.name}, doré to ${terms.counterpartyName}`,
    treatmentId: treatment.id,
    estimate,
    doreFinenessFrac: treatment.doreFinenessFrac,
    chargeSizeKg: treatment.chargeSizeKg,
    reagentCostPerKg,
    lead: {
      inKgPerKg,
      returnFrac: {
        low: treatment.leadReturnLowFrac,
        mode: treatment.leadReturnModeFrac,
        high: treatment.leadReturnHighFrac,
      },
      buyPricePerKg: inKgPerKg === 0 ? 0 : (leadKg * leadPrice + lithargeCost) / inKgPerKg,
      recoveredValuePerKg: leadPrice,
    },
    crucibleCostPerCharge:
      cupelCostPerCharge +
      (crucible === undefined ? 0 : priceOf(crucible, 'each') / treatment.crucibleLifeCharges),
    furnaceHoursPerCharge: treatment.furnaceHoursPerCharge,
    labourHoursPerCharge: treatment.labourHoursPerCharge,
    fuelCostPerFurnaceHour: fuelCost === 0 ? 0 : fuelCost / treatment.furnaceHoursPerCharge,
    wagePerHour: assumptions.wagePerHour ?? (labour === undefined ? 0 : priceOf(labour, 'h')),
    wasteCostPerKg: Number(treatment.wasteCostPerKg),
    fixedCosts: [],
    horizonDays: treatment.daysUntilBar + daysUntilPaid(terms.body),
    daysUntilCash: treatment.daysUntilBar + daysUntilPaid(terms.body),
  };
  return faults.length === 0 ? option : { faults };
}
