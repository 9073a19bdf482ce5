import { Dec, sumOf } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';
import { priceOn, type CostLine, type MovementCost, type PricedSupply } from './batch-cost.ts';

/** The key of the movement of stock that a day makes. */
export const dayMovementKey = (dayId: string, supplyId: string): string => `day:${dayId}:${supplyId}`;

export interface DayActuals {
  id: string;
  day: string;
  supplies: readonly { supplyId: string; quantity: string }[];
  labour: readonly { supplyId: string; hours: string }[];
}

/**
 * What a day at the mill has cost: each supply used at the average of its stock, or, where no stock of it is kept, ×
 * its list price of the day; hours × wage, one line a wage. As `batchCost`: every amount is to the cent, halves up,
 * before it is added; what has no price is named in `missing`.
 * Source: common practice; IAS 2 Inventories §25 for the average.
 */
export function dayCost(
  actuals: DayActuals,
  supplies: readonly PricedSupply[],
  stockCosts: ReadonlyMap<string, MovementCost> = new Map(),
): { lines: CostLine[]; total: string; missing: string[] } {
  const lines: CostLine[] = [];
  const missing: string[] = [];
  const add = (supplyId: string, quantity: string, stock: MovementCost | undefined): void => {
    const supply = supplies.find(({ id }) => id === supplyId);
    const unitPrice = stock?.unitCost ?? (supply === undefined ? null : priceOn(supply, actuals.day));
    if (supply === undefined || unitPrice === null)
      return void missing.push(
        `${supply?.name ?? 'A supply that is no longer on the list'} has no price on or before ${actuals.day}.`,
      );
    lines.push({
      supplyId,
      label: supply.name,
      quantity,
      unit: supply.unit,
      unitPrice,
      pricedBy: stock === undefined ? 'list' : 'average',
      amount: stock?.amount ?? roundedText(new Dec(quantity).times(unitPrice), halfUp(2)),
    });
  };
  for (const { supplyId, quantity } of actuals.supplies)
    add(supplyId, quantity, stockCosts.get(dayMovementKey(actuals.id, supplyId)));
  for (const wage of new Set(actuals.labour.map(({ supplyId }) => supplyId)))
    add(
      wage,
      sumOf(actuals.labour.filter(({ supplyId }) => supplyId === wage).map(({ hours }) => hours)).toFixed(),
      undefined,
    );
  return { lines, total: sumOf(lines.map(({ amount }) => amount)).toFixed(2), missing };
}
