import type { CostedTreatment, PriceList } from './treatment-needs.ts';
import { treatmentNeeds } from './treatment-needs.ts';

export interface TreatmentCost {
  /** Money per kg of dry concentrate; lead that comes back is negative, at the likely return. */
  lines: { label: string; costPerKg: number }[];
  /** Money per kg; low is at the high lead return. Null while anything cannot be priced. */
  totalPerKg: { low: number; likely: number; high: number } | null;
  /** What cannot be priced, one sentence each. */
  faults: string[];
}

const asSentence = (clause: string): string => `${clause.charAt(0).toUpperCase()}${clause.slice(1)}.`;

/**
 * What a full charge costs, per kg of dry concentrate, at the prices of a day (`treatmentNeeds`).
 *
 * cost = recipe + (fuel + crucible + cupels + labour hours × wage) ÷ charge kg + waste
 *        − lead in × lead return × lead price
 *
 * A last charge that is not full costs as much as a full one, so a batch can cost more than its mass times
 * this. A supply without a price, priced in another currency or bought by another unit is a fault, never a
 * zero. Source: common practice.
 */
export function treatmentCost(treatment: CostedTreatment, list: PriceList): TreatmentCost {
  const { recipe, lead, fuel, crucible, cupels, labour, faults } = treatmentNeeds(treatment, list);
  const { chargeSizeKg, labourHoursPerCharge } = treatment;
  const perCharge = [
    fuel,
    crucible,
    cupels,
    labour && { name: labour.name, costPerCharge: labourHoursPerCharge * labour.wagePerHour },
  ];
  const lines = [
    ...recipe.map(({ name, costPerKg }) => ({ label: name, costPerKg })),
    ...perCharge.flatMap((one) =>
      one === null ? [] : [{ label: one.name, costPerKg: one.costPerCharge / chargeSizeKg }],
    ),
    { label: 'Waste disposal', costPerKg: Number(treatment.wasteCostPerKg) },
  ];
  const outlay = lines.reduce((sum, { costPerKg }) => sum + costPerKg, 0);
  const leadBack = (returnFrac: number): number => lead.inKgPerKg * returnFrac * lead.pricePerKg;
  if (lead.inKgPerKg > 0)
    lines.push({ label: 'Lead back', costPerKg: -leadBack(treatment.leadReturnModeFrac) });
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
    faults: faults.map(asSentence),
  };
}
