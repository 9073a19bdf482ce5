import { Dec, type DecimalNumber } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';
import type { StockLedger } from './moving-average.ts';

/** A supply with its dated prices, as decimal texts. */
export interface PricedSupply {
  id: string;
  name: string;
  unit: string;
  prices: readonly { effectiveOn: string; price: string }[];
}

export interface BatchActuals {
  id: string;
  /** The day whose prices count: when it was finished, or what comes nearest. */
  pricedOn: string;
  consumption: readonly { supplyId: string; quantity: string }[];
  labourHours: string | null;
  labourSupplyId: string | null;
  leadInKg: string | null;
  leadBackKg: string | null;
  leadSupplyId: string | null;
}

/** What one movement out of a stock cost, decimal texts; what comes back is negative. */
export interface MovementCost {
  amount: string;
  unitCost: string;
}

export interface CostLine {
  supplyId: string;
  label: string;
  quantity: string;
  unit: string;
  unitPrice: string;
  /** The average of the stock before it was used, or the list price of the day where no stock is kept. */
  pricedBy: 'average' | 'list';
  /** To the cent; lead that came back is negative. */
  amount: string;
}

export interface BatchCost {
  lines: CostLine[];
  /** Sum of the printed amounts. */
  total: string;
  /** One sentence for each thing that could not be costed. */
  missing: string[];
}

/** The keys of the movements of stock that a batch makes. */
export const batchMovementKeys = {
  used: (batchId: string, supplyId: string): string => `batch:${batchId}:${supplyId}`,
  leadIn: (batchId: string): string => `batch-lead-in:${batchId}`,
  leadBack: (batchId: string): string => `batch-lead-back:${batchId}`,
};

/** The last price on or before a day, or null where there is none yet. */
export function priceOn(supply: Pick<PricedSupply, 'prices'>, day: string): string | null {
  let newest: { effectiveOn: string; price: string } | null = null;
  for (const one of supply.prices)
    if (one.effectiveOn <= day && (newest === null || one.effectiveOn > newest.effectiveOn)) newest = one;
  return newest?.price ?? null;
}

/** What each use and return in a ledger cost, by the key of its movement; what has no known cost is left out. */
export function costsOf(ledger: StockLedger): [key: string, cost: MovementCost][] {
  return ledger.entries.flatMap(({ key, kind, amount, unitCost }): [string, MovementCost][] =>
    (kind === 'use' || kind === 'return') && unitCost !== null
      ? [[key, { amount: new Dec(amount).negated().toFixed(2), unitCost }]]
      : [],
  );
}

/**
 * What a batch has cost: each supply used at the average cost of its stock, or, where no stock of it is kept, × its
 * list price of the day; labour hours × wage; lead in less lead back.
 *
 * Every amount is to the cent, halves up, before it is added, so that the printed lines foot. Whatever has no
 * quantity or no price is not taken as nothing but named in `missing`.
 * Source: common practice; IAS 2 Inventories §25 for the average.
 */
export function batchCost(
  actuals: BatchActuals,
  supplies: readonly PricedSupply[],
  /** By the key of the movement, as `costsOf` gives them for the stock of each supply. */
  stockCosts: ReadonlyMap<string, MovementCost> = new Map(),
): BatchCost {
  const byId = new Map(supplies.map((supply) => [supply.id, supply]));
  const lines: CostLine[] = [];
  const missing: string[] = [];
  let total: DecimalNumber = new Dec(0);

  const add = (line: { supplyId: string; quantity: string; key?: string; label?: string }): void => {
    const { supplyId, quantity, key, label } = line;
    const supply = byId.get(supplyId);
    if (supply === undefined) return void missing.push('A supply that was used is no longer on the list.');
    const stock = key === undefined ? undefined : stockCosts.get(key);
    const unitPrice = stock?.unitCost ?? priceOn(supply, actuals.pricedOn);
    if (unitPrice === null)
      return void missing.push(`${supply.name} has no price on or before ${actuals.pricedOn}.`);
    const amount = stock?.amount ?? roundedText(new Dec(quantity).times(unitPrice), halfUp(2));
    const pricedBy = stock === undefined ? 'list' : 'average';
    lines.push({
      supplyId,
      label: label ?? supply.name,
      quantity,
      unit: supply.unit,
      unitPrice,
      pricedBy,
      amount,
    });
    total = total.plus(amount);
  };

  for (const { supplyId, quantity } of actuals.consumption)
    add({ supplyId, quantity, key: batchMovementKeys.used(actuals.id, supplyId) });

  if (actuals.labourSupplyId !== null) {
    if (actuals.labourHours === null) missing.push('Labour hours were not entered.');
    else if (!new Dec(actuals.labourHours).isZero())
      add({ supplyId: actuals.labourSupplyId, quantity: actuals.labourHours });
  }

  if (actuals.leadSupplyId !== null) {
    const supplyId = actuals.leadSupplyId;
    const leadName = byId.get(supplyId)?.name ?? 'Lead';
    if (actuals.leadInKg === null) missing.push('Lead in was not weighed.');
    else
      add({
        supplyId,
        quantity: actuals.leadInKg,
        key: batchMovementKeys.leadIn(actuals.id),
        label: `${leadName}, charged`,
      });
    if (actuals.leadBackKg === null) missing.push('Lead back was not weighed.');
    else if (!new Dec(actuals.leadBackKg).isZero())
      add({
        supplyId,
        quantity: new Dec(actuals.leadBackKg).negated().toFixed(),
        key: batchMovementKeys.leadBack(actuals.id),
        label: `${leadName}, back`,
      });
  }
  return { lines, total: total.toFixed(2), missing };
}
