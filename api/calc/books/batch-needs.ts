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
  /** What the batch takes, decimal text. */
  quantity: string;
  unit: string;
  /** What is at hand, decimal text; null where no stock of it is kept, or it is kept in another unit. */
  inStock: string | null;
  /** What is missing beyond the stock, decimal text. */
  toBuy: string;
  /** In force on the day, in the mill's currency; null where there is none, and `unpriced` says why. */
  unitPrice: string | null;
  /** toBuy × unitPrice to the cent, halves up. */
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
 * What has to be at hand for a batch: the recipe's supplies as the charge sheet weighs them out, fuel, crucibles and
 * cupels; of each what is to be bought beyond the stock, × its price of the day, rounded to the cent before it is
 * added. Lead is counted as charged: what comes back of it comes later. Where no stock is kept, all is to be bought.
 * What cannot be priced is left out of the total and says so.
 * Source: common practice.
 */
export function batchNeeds(
  sheet: ChargeSheet,
  {
    supplies,
    used,
    stock,
    on,
    currency,
  }: {
    supplies: readonly NeededSupply[];
    /** The treatment's; null where it names none. */
    used: { fuelSupplyId: string | null; crucibleSupplyId: string | null; cupelSupplyId: string | null };
    /** What is at hand of each supply in stock, decimal texts, by its id; one that is not named is not kept in stock. */
    stock: ReadonlyMap<string, string>;
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
    const inStock = supply.unit === unit ? (stock.get(supply.id) ?? null) : null;
    const toBuy = inStock === null ? quantity : missing(quantity, inStock);
    const amount = unitPrice === null ? null : roundedText(new Dec(toBuy).times(unitPrice), halfUp(2));
    return [
      { supplyId: supply.id, name: supply.name, quantity, unit, inStock, toBuy, unitPrice, amount, unpriced },
    ];
  });
  const total: DecimalNumber = sumOf(lines.map((line) => line.amount ?? '0'));
  return { lines, total: total.toFixed(2) };
}

/** Beyond a stock; one that is below nothing has nothing to give. */
function missing(quantity: string, inStock: string): string {
  return Dec.max(new Dec(quantity).minus(Dec.max(inStock, 0)), 0).toFixed();
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
