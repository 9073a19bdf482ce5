import type { Estimate, InHouseOption } from '../economics/options.ts';
import type { Assumptions } from './assumptions.ts';
import { daysUntilPaid } from './payment-days.ts';
import type { DecisionFacts, TermsFacts, TreatmentFacts } from './records.ts';
import { treatmentNeeds } from './treatment-needs.ts';

/** What stands in the way of costing a treatment, one clause each. */
export interface OptionFaults {
  faults: string[];
}

/**
 * A treatment under a refiner's terms as an option of the decision: what a kilogram of concentrate and a
 * charge take, at the prices of the day (`treatmentNeeds`). Litharge is bought as lead is: its lead joins the
 * collector, and the lead's price is what both together cost. The faults that keep it from being costed, if any.
 */
export function inHouseOption(
  treatment: TreatmentFacts,
  terms: TermsFacts,
  facts: DecisionFacts,
  assumptions: Assumptions,
  estimate: Estimate,
): InHouseOption | OptionFaults {
  const onlyRefiner = facts.terms.filter((one) => one.body.material === 'dore').length === 1;
  const { recipe, lead, fuel, crucible, cupels, labour, faults } = treatmentNeeds(
    treatment,
    facts,
    assumptions,
  );
  if (faults.length > 0) return { faults };
  const isLead = ({ kind }: (typeof recipe)[number]): boolean => kind === 'lead' || kind === 'litharge';
  const costOf = (lines: typeof recipe): number => lines.reduce((sum, { costPerKg }) => sum + costPerKg, 0);
  const { inKgPerKg, pricePerKg } = lead;
  return {
    kind: 'in-house',
    id: `${treatment.id}/${terms.id}`,
    name: onlyRefiner ? treatment.name : `${treatment.name}, doré to ${terms.counterpartyName}`,
    treatmentId: treatment.id,
    estimate,
    doreFinenessFrac: treatment.doreFinenessFrac,
    chargeSizeKg: treatment.chargeSizeKg,
    reagentCostPerKg: costOf(recipe.filter((line) => !isLead(line))),
    lead: {
      inKgPerKg,
      returnFrac: {
        low: treatment.leadReturnLowFrac,
        mode: treatment.leadReturnModeFrac,
        high: treatment.leadReturnHighFrac,
      },
      buyPricePerKg: inKgPerKg === 0 ? 0 : costOf(recipe.filter(isLead)) / inKgPerKg,
      recoveredValuePerKg: pricePerKg,
    },
    crucibleCostPerCharge: (crucible?.costPerCharge ?? 0) + (cupels?.costPerCharge ?? 0),
    furnaceHoursPerCharge: treatment.furnaceHoursPerCharge,
    labourHoursPerCharge: treatment.labourHoursPerCharge,
    fuelCostPerFurnaceHour: fuel === null ? 0 : fuel.costPerCharge / treatment.furnaceHoursPerCharge,
    wagePerHour: labour?.wagePerHour ?? 0,
    wasteCostPerKg: Number(treatment.wasteCostPerKg),
    fixedCosts: [],
    horizonDays: treatment.daysUntilBar + daysUntilPaid(terms.body),
    daysUntilCash: treatment.daysUntilBar + daysUntilPaid(terms.body),
  };
}
