import type { ChemicalElement } from './atomic-weights.ts';
import { atomsOf } from './atomic-weights.ts';
import type { Substance } from './substances.ts';
import { molarMassOf, substances } from './substances.ts';

/** Moles of each substance. */
export type Amounts = Readonly<Partial<Record<Substance, number>>>;

/** A balanced reaction: what it takes and what it gives, in moles. */
export interface Reaction {
  takes: Amounts;
  gives: Amounts;
}

export function entriesOf(amounts: Amounts): [Substance, number][] {
  return Object.entries(amounts) as [Substance, number][];
}

/** Mass of an amount of substances, g. */
export function massOf(amounts: Amounts): number {
  return entriesOf(amounts).reduce((total, [substance, moles]) => total + moles * molarMassOf(substance), 0);
}

/**
 * Grams of one substance that go with one gram of another in a reaction: (n of / n per) × (M of / M per).
 * Either may stand on either side. Zero where the reaction has none of `of`; not finite where it has none of `per`.
 */
export function gramsPerGram({
  reaction,
  of,
  per,
}: {
  reaction: Reaction;
  of: Substance;
  per: Substance;
}): number {
  const moles = (substance: Substance) => reaction.gives[substance] ?? reaction.takes[substance] ?? 0;
  return (moles(of) * molarMassOf(of)) / (moles(per) * molarMassOf(per));
}

/** Atoms given less atoms taken, by element: every entry of a balanced reaction is zero. */
export function imbalance(reaction: Reaction): Partial<Record<ChemicalElement, number>> {
  const atoms: Partial<Record<ChemicalElement, number>> = {};
  const count = (amounts: Amounts, sign: 1 | -1) => {
    for (const [substance, moles] of entriesOf(amounts)) {
      for (const [element, number] of atomsOf(substances[substance])) {
        atoms[element] = (atoms[element] ?? 0) + sign * moles * number;
      }
    }
  };
  count(reaction.gives, 1);
  count(reaction.takes, -1);
  return atoms;
}
