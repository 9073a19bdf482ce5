import { Dec, type DecimalNumber } from '../money.ts';
import { halfUp, roundBy } from '../rounding.ts';

/** What comes to a place where material lies: a cost, decimal text to the cent. */
export interface CostIn {
  on: string;
  amount: string;
}

/** What goes out of it. */
export interface CostOut {
  key: string;
  on: string;
  /** kg dry; what leaves takes its share of the cost by mass. Null: whatever is there. */
  massKg: string | null;
  /** Mass that takes no cost along, as what test smelts use up: the rest bears it. */
  takesNoCost?: boolean;
}

export interface WalkedCost {
  /** What each outgoing mass took along, decimal texts to the cent, by its key. */
  taken: ReadonlyMap<string, string>;
  /** Cost that came when nothing was left to bear it, or that was left when the last went. */
  unborne: CostIn[];
}

const cents = (value: DecimalNumber): DecimalNumber => roundBy(value, halfUp(2));

/**
 * Follows the cost of material in one place by dry mass: amount out = cost there × mass out ÷ mass there, to the cent,
 * halves up; the last of it takes the rest, so that nothing is lost. On one day costs come before masses go, and masses
 * go in the order given. Cost that nothing is left to bear is named apart.
 * Source: IAS 2 Inventories §10, §12 (cost of conversion follows the material), §14 (allocation on a rational and
 * consistent basis); IAS 2 §38 for what is not borne by stock.
 */
export function walkCost({
  massKg,
  comes,
  goes,
}: {
  /** kg dry; null or '0' where there is nothing to bear a cost. */
  massKg: string | null;
  comes: readonly CostIn[];
  goes: readonly CostOut[];
}): WalkedCost {
  const steps = [
    ...comes.map((one) => ({ on: one.on, comes: one, goes: null })),
    ...goes.map((one) => ({ on: one.on, comes: null, goes: one })),
  ].toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  const taken = new Map<string, string>();
  const unborne: CostIn[] = [];
  let left = new Dec(massKg ?? 0);
  let value = new Dec(0);
  for (const { on, comes: cost, goes: out } of steps) {
    if (cost !== null) {
      if (left.greaterThan(0)) value = value.plus(cost.amount);
      else if (!new Dec(cost.amount).isZero()) unborne.push(cost);
      continue;
    }
    const after = out.massKg === null ? new Dec(0) : left.minus(out.massKg);
    const isLast = !after.greaterThan(0);
    if (out.takesNoCost === true) {
      if (isLast && !value.isZero()) unborne.push({ on, amount: value.toFixed(2) });
      if (isLast) value = new Dec(0);
    } else {
      const amount = isLast ? value : cents(value.times(left.minus(after)).div(left));
      taken.set(out.key, amount.toFixed(2));
      value = value.minus(amount);
    }
    left = after;
  }
  return { taken, unborne };
}
