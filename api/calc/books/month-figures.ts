import { Dec, sumOf, type DecimalNumber } from '../money.ts';
import { figureOf, sumFigures, type BookEntry, type Figures } from './book-entry.ts';
import type { ExpenseKind, SupplyKind } from './book-records.ts';
import type { Correction } from './corrections.ts';

/** Figures of a month: its entries, and the corrections of closed months that are shown in it, each once. */
export function monthFigures(
  entries: readonly BookEntry[],
  corrections: readonly Pick<Correction, 'difference'>[],
): Figures {
  return sumFigures([
    ...entries.map(({ figures }) => figures),
    ...corrections.map(({ difference }) => difference),
  ]);
}

export const costKindNames: Record<SupplyKind, string> = {
  reagent: 'Reagents',
  lead: 'Lead in, less lead back',
  litharge: 'Litharge',
  iron: 'Iron',
  fuel: 'Fuel',
  crucible: 'Crucibles',
  cupel: 'Cupels',
  labour: 'Wages',
  other: 'Other supplies',
};

export const expenseNames: Record<ExpenseKind, string> = {
  rent: 'Rent',
  repair: 'Repairs',
  permit: 'Permits',
  insurance: 'Insurance',
  power: 'Power and water',
  transport: 'Transport',
  assays: 'Assays',
  fees: 'Fees',
  wages: 'Wages not in batches or days',
  'wages-paid': 'Wages paid for hours in batches and days',
  'royalty-paid': 'Royalties paid',
  'tax-paid': 'Taxes paid',
  other: 'Other expenses',
};

/** Settle what statements have taken off, or hours have cost already, so that they are no cost again. */
const PAID_ON_ACCOUNT: ReadonlySet<string> = new Set(['royalty-paid', 'tax-paid', 'wages-paid']);

export interface CostOfKind {
  kind: string;
  /** Of days at the mill, of batches, and of neither. Decimal texts to the cent. */
  days: string;
  batches: string;
  other: string;
  total: string;
}

/** Costs by kind, kinds without any left out; what is paid of royalties and taxes is none (statements charge it). */
export function costsByKind(figures: Figures): CostOfKind[] {
  const row = (
    kind: string,
    days: DecimalNumber,
    batches: DecimalNumber,
    other: DecimalNumber,
  ): CostOfKind => ({
    kind,
    days: days.toFixed(2),
    batches: batches.toFixed(2),
    other: other.toFixed(2),
    total: days.plus(batches).plus(other).toFixed(2),
  });
  const none = new Dec(0);
  const rows = [
    ...Object.entries(costKindNames).map(([kind, name]) =>
      row(name, figureOf(figures, `dayCost/${kind}`), figureOf(figures, `batchCost/${kind}`), none),
    ),
    row('Concentrate bought', none, none, figureOf(figures, 'concentrateBought')),
    ...Object.entries(expenseNames).flatMap(([kind, name]) =>
      PAID_ON_ACCOUNT.has(kind) ? [] : [row(name, none, none, figureOf(figures, `expense/${kind}`))],
    ),
    row('Differences found by counts and later prices', none, none, figureOf(figures, 'stockDifference')),
  ];
  return rows.filter((one) => [one.days, one.batches, one.other].some((amount) => !new Dec(amount).isZero()));
}

/** What a month came to. Decimal texts; money in the mill's currency, to the cent. */
export interface MonthResult {
  costs: string;
  /** What statements brought, what was paid before taken off. */
  settled: string;
  /** settled − costs. */
  netValue: string;
  /** What was paid of royalties and taxes that statements had charged: no cost. */
  paidOnAccount: string;
  /** Costs per dry tonne of feed, per dry tonne that batches treated, and per troy ounce of gold in bars and beads made; null without. */
  perFedTonne: string | null;
  perTreatedTonne: string | null;
  perGoldOztMade: string | null;
}

/** Grams in a troy ounce, exactly (NIST Handbook 44, Appendix C). */
const GRAMS_PER_OZT = '31.1034768';

/**
 * Result of a month's or a year's figures: net value = settled − costs; cost per tonne = costs ÷ t dry fed, and ÷ (kg
 * dry treated ÷ 1000); cost per ounce = costs ÷ (g gold in bars and beads made ÷ 31.1034768). To the cent, halves up.
 * Source: common practice.
 */
export function monthResult(figures: Figures): MonthResult {
  const costs = sumOf(costsByKind(figures).map(({ total }) => total));
  const settled = figureOf(figures, 'settled');
  const per = (quantity: DecimalNumber): string | null =>
    quantity.greaterThan(0) ? costs.div(quantity).toFixed(2) : null;
  return {
    costs: costs.toFixed(2),
    settled: settled.toFixed(2),
    netValue: settled.minus(costs).toFixed(2),
    paidOnAccount: sumOf([...PAID_ON_ACCOUNT].map((kind) => figureOf(figures, `expense/${kind}`))).toFixed(2),
    perFedTonne: per(figureOf(figures, 'feedDryT')),
    perTreatedTonne: per(figureOf(figures, 'treatedDryKg').div(1000)),
    perGoldOztMade: per(
      figureOf(figures, 'made/bar/goldG').plus(figureOf(figures, 'made/bead/goldG')).div(GRAMS_PER_OZT),
    ),
  };
}
