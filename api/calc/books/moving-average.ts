import type { Finding } from '../finding.ts';
import { Dec, type DecimalNumber } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';

/** In the order in which they count within a day: bought first, then used and brought back, counted last. */
const ORDER = ['purchase', 'use', 'return', 'count'] as const;

/** One thing that happened to the stock of a supply. */
export interface StockMovement {
  /** Stable, names what it comes from, such as `purchase:<id>`. */
  key: string;
  /** ISO date. */
  on: string;
  kind: (typeof ORDER)[number];
  /** Decimal text, never negative; for a count, what was there. */
  quantity: string;
  /** What it cost in all, to the cent: of a purchase, and of a first count; null where nobody knows, and for the rest. */
  amount: string | null;
}

/** The stock of a supply at a moment. Decimal texts. */
export interface StockState {
  quantity: string;
  /** To the cent. */
  value: string;
  /** Per unit; kept when the stock runs out, for what is used beyond it. Null before anything was known. */
  averageCost: string | null;
}

/** A movement with what it did to the stock. */
export interface StockEntry {
  key: string;
  on: string;
  kind: StockMovement['kind'];
  /** Signed change of the quantity; for a count, the difference that it found. */
  quantity: string;
  /** Signed change of the value, to the cent. */
  amount: string;
  /**
   * Only of a purchase after more had been used than was there: by how much the value changes because what had
   * gone out at the last average is now known to have cost this. Signed, to the cent; '0.00' otherwise.
   */
  shortfallAmount: string;
  /** At which it moved, to six decimals; null where nothing is known of the cost. */
  unitCost: string | null;
  after: StockState;
}

export interface StockLedger {
  entries: StockEntry[];
  /** Null while neither a purchase nor a count is on the books. */
  closing: StockState | null;
  findings: Finding[];
}

const AVERAGE_DECIMALS = 12;
const cents = (value: DecimalNumber): DecimalNumber => new Dec(roundedText(value, halfUp(2)));

/** By day, and within a day in the order in which they count. */
export function inOrder(movements: readonly StockMovement[]): StockMovement[] {
  return movements.toSorted(
    (a, b) =>
      (a.on < b.on ? -1 : a.on > b.on ? 1 : 0) ||
      ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind) ||
      (a.key < b.key ? -1 : 1),
  );
}

interface Running {
  quantity: DecimalNumber;
  value: DecimalNumber;
  average: DecimalNumber | null;
}

/** What stays after so much has come or gone at the average; the last unit takes the rest of the value. */
function movedAtAverage({ quantity, value, average }: Running, change: DecimalNumber): Running {
  const left = quantity.plus(change);
  if (left.isZero()) return { quantity: left, value: new Dec(0), average };
  const moved =
    quantity.greaterThan(0) && left.greaterThan(0)
      ? value.plus(cents(change.times(value).div(quantity)))
      : cents(left.times(average ?? 0));
  return { quantity: left, value: moved, average };
}

/** What is there once a purchase has come in; its cost is that of what had been used before it came, too. */
function bought(
  { quantity, value, average }: Running,
  change: DecimalNumber,
  amount: DecimalNumber,
): Running {
  const left = quantity.plus(change);
  if (!quantity.isNegative() || quantity.isZero())
    return { quantity: left, value: value.plus(amount), average };
  const unitCost = amount.div(change).toDecimalPlaces(AVERAGE_DECIMALS);
  return { quantity: left, value: cents(left.times(unitCost)), average: unitCost };
}

/**
 * The stock of one supply through time, as a perpetual moving weighted average.
 *
 * average = value ÷ quantity, worked anew with each purchase (quantity + q, value + cost). What is used goes out,
 * and what is brought back comes in, at the average before it: amount = q × value ÷ quantity, to the cent, halves
 * up; the last unit takes the rest, so that value in − value out = value left to the cent. A count sets the
 * quantity; its difference goes out or comes in at the average. Source: IAS 2 Inventories §25 and §27 for the
 * method; the order within a day is this program's: purchases, use, returns, counts.
 *
 * The ledger begins with the first purchase or count; a use before it is not part of it, and is costed by its
 * list price elsewhere. `start` takes the place of all movements up to its day, which must be left out.
 *
 * Reported: more used than was there at the end of a day (the quantity turns negative, at the last average, and
 * the next purchase puts its cost right); a purchase or first count whose cost is unknown (taken at the average,
 * or at the list price of its day).
 */
export function stockLedger({
  movements,
  start,
  supply,
  listPriceOn,
}: {
  movements: readonly StockMovement[];
  start: StockState | null;
  supply: { name: string; unit: string };
  /** Decimal text of the list price in force on a day, null where there is none. */
  listPriceOn: (day: string) => string | null;
}): StockLedger {
  const entries: StockEntry[] = [];
  const findings: Finding[] = [];
  let now: Running | null = start && {
    quantity: new Dec(start.quantity),
    value: new Dec(start.value),
    average: start.averageCost === null ? null : new Dec(start.averageCost),
  };
  const ordered = inOrder(movements);

  ordered.forEach((movement, index) => {
    const begins = movement.kind === 'purchase' || movement.kind === 'count';
    if (now === null && !begins) return;
    const before: Running = now ?? { quantity: new Dec(0), value: new Dec(0), average: null };
    const listed = before.average === null ? listPriceOn(movement.on) : null;
    const known: Running = {
      ...before,
      average: before.average ?? (listed === null ? null : new Dec(listed)),
    };
    const typed = new Dec(movement.quantity);
    let cost = movement.amount === null ? null : new Dec(movement.amount);
    if (cost === null && (movement.kind === 'purchase' || now === null)) {
      cost = cents(typed.times(known.average ?? 0));
      if (!typed.isZero()) findings.push(costUnknown(movement, supply, known.average));
    }
    const change =
      movement.kind === 'count'
        ? typed.minus(before.quantity)
        : movement.kind === 'use'
          ? typed.negated()
          : typed;
    const paid = movement.kind === 'purchase' || now === null ? cost : null;
    const after = paid === null ? movedAtAverage(known, change) : bought(known, change, paid);
    if (after.quantity.greaterThan(0))
      after.average = after.value.div(after.quantity).toDecimalPlaces(AVERAGE_DECIMALS);
    const whole = after.value.minus(before.value);
    const amount = paid ?? whole;
    entries.push({
      key: movement.key,
      on: movement.on,
      kind: movement.kind,
      quantity: change.toFixed(),
      amount: amount.toFixed(2),
      shortfallAmount: whole.minus(amount).toFixed(2),
      unitCost: unitCostText(paid !== null && !typed.isZero() ? paid.div(typed) : known.average),
      after: stateOf(after),
    });
    now = after;
    if (after.quantity.isNegative() && !after.quantity.isZero() && ordered[index + 1]?.on !== movement.on)
      findings.push(moreUsedThanThere(movement, supply, after.quantity, before.quantity));
  });
  return { entries, closing: now && stateOf(now), findings };
}

function unitCostText(cost: DecimalNumber | null): string | null {
  return cost && cost.toDecimalPlaces(6).toFixed();
}

function stateOf({ quantity, value, average }: Running): StockState {
  return {
    quantity: quantity.toFixed(),
    value: value.toFixed(2),
    averageCost: average && average.toFixed(),
  };
}

function costUnknown(
  { on, kind, quantity }: StockMovement,
  supply: { name: string; unit: string },
  average: DecimalNumber | null,
): Finding {
  const what = kind === 'purchase' ? 'bought' : 'counted first';
  return {
    code: 'stock-cost-unknown',
    level: 'warning',
    path: '',
    sentence:
      average === null
        ? `${supply.name}: ${quantity} ${supply.unit} ${what} on ${on} came in at no value, because neither a cost nor a list price is known. Enter what it cost.`
        : `${supply.name}: ${quantity} ${supply.unit} ${what} on ${on} came in at ${average.toFixed()} per ${supply.unit}, because what it cost is not known. Enter what it cost, or the exchange rate it is missing.`,
  };
}

function moreUsedThanThere(
  { on }: StockMovement,
  supply: { name: string; unit: string },
  left: DecimalNumber,
  before: DecimalNumber,
): Finding {
  const deeper = before.isNegative() && !before.isZero() ? 'still more' : 'more';
  return {
    code: 'stock-negative',
    level: 'warning',
    path: '',
    sentence: `${supply.name}: ${deeper} was used by the end of ${on} than was there, ${left.negated().toFixed()} ${supply.unit} short. A purchase is missing or a use is too high; count what is there.`,
  };
}
