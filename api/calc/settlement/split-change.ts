import { Dec, sumOf, type DecimalNumber } from '../money.ts';
import { roundedText } from '../rounding.ts';
import type { SettlementInput } from './input.ts';
import { settle } from './settle.ts';
import type { SettlementLine } from './statement.ts';

/** Decimal texts that add up to `total` exactly. */
export interface SettlementChange {
  massEffect: string;
  assayEffect: string;
  priceEffect: string;
  /** What neither mass, assay nor price explains: other terms, umpire's costs, royalty bases. */
  otherEffect: string;
  /** Value in the next settlement less that in the previous. */
  total: string;
}

/**
 * Splits the change of net value between two settlements of one parcel by replacing
 * what changed one after the other: first the masses, then the assays, then prices,
 * exchange rates and dates, then all the rest. An effect therefore includes what it
 * does together with those replaced before it. Every state is a whole settlement
 * rounded by the terms, so the effects add up to the cent. Net values are before
 * advances, interest and earlier payments. Null where some state cannot be settled,
 * for example because an umpire's result belongs to only one of them. `worthOf` says
 * which value is split: the net value, or that of the metal alone (`metalValueOf`).
 */
export function splitChange({
  previous,
  next,
  worthOf = netValueOf,
}: {
  previous: SettlementInput;
  next: SettlementInput;
  worthOf?: (input: SettlementInput) => DecimalNumber | null;
}): SettlementChange | null {
  const withMass = { ...previous, parcel: next.parcel };
  const withAssays = { ...withMass, assays: next.assays };
  const withPrices = {
    ...withAssays,
    prices: next.prices,
    exchangeRates: next.exchangeRates,
    dates: next.dates,
  };
  const values: DecimalNumber[] = [];
  for (const state of [previous, withMass, withAssays, withPrices, next]) {
    const value = worthOf(state);
    if (value === null) return null;
    values.push(value);
  }
  const step = (index: number) =>
    roundedText((values[index] ?? new Dec(0)).minus(values[index - 1] ?? 0), next.terms.rounding.money);
  return {
    massEffect: step(1),
    assayEffect: step(2),
    priceEffect: step(3),
    otherEffect: step(4),
    total: roundedText((values[4] ?? new Dec(0)).minus(values[0] ?? 0), next.terms.rounding.money),
  };
}

/** The net value a settlement comes to before advances and payments; null where it cannot be issued. */
export function netValueOf(input: SettlementInput): DecimalNumber | null {
  const line = settledLines(input)?.find(({ id }) => id === 'previous/net-value');
  return line?.result === null || line === undefined ? null : new Dec(line.result.value);
}

/** The value of all payable metal before charges; null where it cannot be issued. */
export function metalValueOf(input: SettlementInput): DecimalNumber | null {
  const lines = settledLines(input);
  return lines === null
    ? null
    : sumOf(
        lines.flatMap(({ section, amount }) => (section === 'payable' && amount !== null ? [amount] : [])),
      );
}

function settledLines(input: SettlementInput): SettlementLine[] | null {
  const { findings, lines } = settle(input);
  return findings.some((finding) => finding.level === 'blocker') ? null : lines;
}
