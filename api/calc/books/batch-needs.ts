import type { DecimalNumber } from '../money.ts';
import { Dec, sumOf } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';
import type { ChargeSheet } from '../smelting/charge-sheet.ts';

/** A supply with its dated prices, as decimal texts. */
export interface NeededSupply {
  id: string;
  name: string;
  unit: string;
  prices: readonly { effectiveOn: string; price: string; currency: string }[];
}

export interface NeedLine {
  supplyId: string;
  name: string;
  /** Decimal text. */
  quantity: string;
  unit: string;
  /** In force on the day, in the mill's currency; null where there is none, and `unpriced` says why. */
  unitPrice: string | null;
  /** quantity × unitPrice to the cent, halves up. */
  amount: string | null;
  /** '' where it is priced. */
  unpriced: string;
}

export interface BatchNeeds {
  lines: NeedLine[];
  /** Of the lines that are priced. */
  total: string;
}

/**
 * What has to be at hand for a batch, in all: the recipe's supplies as the charge sheet weighs them out, fuel,
 * crucibles and cupels, each × its price of the day, rounded to the cent before it is added. Lead is counted
 * as charged: what comes back of it comes later. What cannot be priced is left out of the total and says so.
 * Source: common practice.
 */
export function batchNeeds(
  sheet: ChargeSheet,
  {
    supplies,
    used,
    on,
    currency,
  }: {
    supplies: readonly NeededSupply[];
    /** The treatment's; null where it names none. */
    used: { fuelSupplyId: string | null; crucibleSupplyId: string | null; cupelSupplyId: string | null };
    on: string;
    currency: string;
  },
): BatchNeeds {
  const wanted: [supplyId: string | null, quantity: string, unit: string | null][] = [
    ...sheet.lines.map((line): [string | null, string, string] => [line.supplyId, line.totalKg, 'kg']),
    [used.fuelSupplyId, sheet.fuel?.total ?? '0', null],
    [used.crucibleSupplyId, String(sheet.crucibles?.count ?? 0), 'each'],
    [used.cupelSupplyId, String(sheet.cupels?.count ?? 0), 'each'],
  ];
  const lines = wanted.flatMap(([supplyId, quantity, neededBy]): NeedLine[] => {
    const supply = supplies.find((one) => one.id === supplyId);
    if (supply === undefined || new Dec(quantity).isZero()) return [];
    const unit = neededBy ?? supply.unit;
    const price = priceInForce(supply, on);
    const unpriced = whyUnpriced(supply, unit, price, currency);
    const unitPrice = unpriced === '' && price !== null ? price.price : null;
    const amount = unitPrice === null ? null : roundedText(new Dec(quantity).times(unitPrice), halfUp(2));
    return [{ supplyId: supply.id, name: supply.name, quantity, unit, unitPrice, amount, unpriced }];
  });
  const total: DecimalNumber = sumOf(lines.map((line) => line.amount ?? '0'));
  return { lines, total: total.toFixed(2) };
}

function priceInForce({ prices }: NeededSupply, on: string): NeededSupply['prices'][number] | null {
  const [newest] = prices
    .filter((one) => one.effectiveOn <= on)
    .toSorted((a, b) => b.effectiveOn.localeCompare(a.effectiveOn));
  return newest ?? null;
}

function whyUnpriced(
  supply: NeededSupply,
  unit: string,
  price: NeededSupply['prices'][number] | null,
  currency: string,
): string {
  if (supply.unit !== unit) return `bought by the ${supply.unit}, needed by the ${unit}`;
  if (price === null) return 'no price yet';
  return price.currency === currency ? '' : `priced in ${price.currency}`;
}
