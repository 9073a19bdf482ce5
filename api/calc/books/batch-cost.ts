import { Dec, type DecimalNumber } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';

/** A supply with its dated prices, as decimal texts. */
export interface PricedSupply {
  id: string;
  name: string;
  unit: string;
  prices: { effectiveOn: string; price: string }[];
}

export interface BatchActuals {
  /** The day whose prices count: when it was finished, or what comes nearest. */
  pricedOn: string;
  consumption: { supplyId: string; quantity: string }[];
  labourHours: string | null;
  labourSupplyId: string | null;
  leadInKg: string | null;
  leadBackKg: string | null;
  leadSupplyId: string | null;
}

export interface CostLine {
  supplyId: string;
  label: string;
  quantity: string;
  unit: string;
  unitPrice: string;
  /** quantity × unitPrice to the cent, halves up; lead that came back is negative. */
  amount: string;
}

export interface BatchCost {
  lines: CostLine[];
  /** Sum of the printed amounts. */
  total: string;
  /** One sentence for each thing that could not be costed. */
  missing: string[];
}

/** The last price on or before a day, or null where there is none yet. */
export function priceOn(supply: PricedSupply, day: string): string | null {
  let newest: { effectiveOn: string; price: string } | null = null;
  for (const one of supply.prices)
    if (one.effectiveOn <= day && (newest === null || one.effectiveOn > newest.effectiveOn)) newest = one;
  return newest?.price ?? null;
}

/**
 * What a batch has cost: each supply used × its price of the day, labour hours × wage, lead in less lead back.
 *
 * Every amount is rounded to the cent, halves up, before it is added, so that the printed lines foot.
 * Whatever has no quantity or no price is not taken as nothing but named in `missing`.
 * Source: common practice.
 */
export function batchCost(actuals: BatchActuals, supplies: readonly PricedSupply[]): BatchCost {
  const byId = new Map(supplies.map((supply) => [supply.id, supply]));
  const lines: CostLine[] = [];
  const missing: string[] = [];
  let total: DecimalNumber = new Dec(0);

  const add = (supplyId: string, quantity: string, label?: string): void => {
    const supply = byId.get(supplyId);
    if (supply === undefined) return void missing.push('A supply that was used is no longer on the list.');
    const unitPrice = priceOn(supply, actuals.pricedOn);
    if (unitPrice === null)
      return void missing.push(`${supply.name} has no price on or before ${actuals.pricedOn}.`);
    const amount = roundedText(new Dec(quantity).times(unitPrice), halfUp(2));
    lines.push({ supplyId, label: label ?? supply.name, quantity, unit: supply.unit, unitPrice, amount });
    total = total.plus(amount);
  };

  for (const { supplyId, quantity } of actuals.consumption) add(supplyId, quantity);

  if (actuals.labourSupplyId !== null) {
    if (actuals.labourHours === null) missing.push('Labour hours were not entered.');
    else if (!new Dec(actuals.labourHours).isZero()) add(actuals.labourSupplyId, actuals.labourHours);
  }

  if (actuals.leadSupplyId !== null) {
    const leadName = byId.get(actuals.leadSupplyId)?.name ?? 'Lead';
    if (actuals.leadInKg === null) missing.push('Lead in was not weighed.');
    else add(actuals.leadSupplyId, actuals.leadInKg, `${leadName}, charged`);
    if (actuals.leadBackKg === null) missing.push('Lead back was not weighed.');
    else if (!new Dec(actuals.leadBackKg).isZero())
      add(actuals.leadSupplyId, new Dec(actuals.leadBackKg).negated().toFixed(), `${leadName}, back`);
  }
  return { lines, total: total.toFixed(2), missing };
}
