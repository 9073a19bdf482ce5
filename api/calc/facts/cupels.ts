import type { SupplyFacts } from './records.ts';

/**
 * Cupels for a kg of concentrate: lead of the button [kg/kg] × 1000 ÷ what one cupel takes up [g]. Parts of a
 * cupel count, as over a season they do; a cupel without a capacity is a fault. Source: common practice.
 */
export function cupelsPerKg(
  cupel: Pick<SupplyFacts, 'name' | 'cupelLeadCapacityG'>,
  buttonLeadKgPerKg: number,
): { count: number; fault: string | null } {
  const capacityG = cupel.cupelLeadCapacityG ?? null;
  if (capacityG === null || capacityG <= 0)
    return { count: 0, fault: `${cupel.name} does not say how much lead it takes up` };
  return { count: (buttonLeadKgPerKg * 1000) / capacityG, fault: null };
}
