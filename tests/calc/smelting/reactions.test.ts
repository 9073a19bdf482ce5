import { describe, expect, it } from 'vitest';
import { ironReactions } from '../../../api/calc/smelting/iron.ts';
import type { Reaction } from '../../../api/calc/smelting/reaction.ts';
import { gramsPerGram, imbalance, massOf } from '../../../api/calc/smelting/reaction.ts';
import {
  nitreOnLead,
  reductionToSulfate,
  reductionToSulfurDioxide,
} from '../../../api/calc/smelting/lead-oxidation.ts';
import { galenaToSulfate, roastReactions } from '../../../api/calc/smelting/roast-reactions.ts';
import type { Substance } from '../../../api/calc/smelting/substances.ts';
import { heatingReactions } from '../../../api/calc/smelting/sulfur-distilled.ts';
import { molarMassOf } from '../../../api/calc/smelting/substances.ts';

const named = (what: string, byMineral: Readonly<Record<string, Reaction | null>>): [string, Reaction][] =>
  Object.entries(byMineral).flatMap(([mineral, reaction]) =>
    reaction === null ? [] : [[`${what} ${mineral}`, reaction] satisfies [string, Reaction]],
  );

const reactions: [string, Reaction][] = [
  ...named('roast of', roastReactions),
  ['roast of galena to sulfate', galenaToSulfate],
  ...named('reduction of litharge, to SO2, by', reductionToSulfurDioxide),
  ...named('reduction of litharge, to sulfate, by', reductionToSulfate),
  ['nitre on lead', nitreOnLead],
  ...named('iron on', ironReactions),
  ...named('heating of', heatingReactions),
];

describe('reactions', () => {
  it.each(reactions)('%s balances, atom by atom and by mass', (_, reaction) => {
    for (const atoms of Object.values(imbalance(reaction))) expect(Math.abs(atoms)).toBeLessThan(1e-12);
    expect(Math.abs(massOf(reaction.gives) - massOf(reaction.takes))).toBeLessThan(1e-9);
  });

  it('finds a reaction that does not balance', () => {
    expect(imbalance({ takes: { pyrite: 1, Fe: 1 }, gives: { FeS: 1 } })).toMatchObject({ Fe: -1, S: -1 });
  });

  it('gives grams per gram across a reaction, and none of what is not in it', () => {
    const rusting: Reaction = { takes: { Fe: 2, O2: 1.5 }, gives: { Fe2O3: 1 } };
    expect(gramsPerGram({ reaction: rusting, of: 'Fe2O3', per: 'Fe' })).toBeCloseTo(1.4297, 4);
    expect(gramsPerGram({ reaction: rusting, of: 'SO2', per: 'Fe' })).toBe(0);
  });

  // CRC Handbook of Chemistry and Physics, physical constants of inorganic compounds (from memory), g/mol.
  it.each([
    ['Fe2O3', 159.688],
    ['CuO', 79.545],
    ['ZnO', 81.39],
    ['PbO', 223.2],
    ['PbSO4', 303.3],
    ['As2O3', 197.841],
    ['Sb2O3', 291.518],
    ['SO2', 64.064],
    ['KNO3', 101.103],
    ['Na2CO3', 105.989],
    ['NaHCO3', 84.007],
    ['Na2B4O7', 201.22],
    ['boraxDecahydrate', 381.372],
    ['SiO2', 60.085],
    ['CaCO3', 100.087],
    ['CaF2', 78.075],
  ] satisfies [Substance, number][])('%s weighs %f g/mol', (substance, expected) => {
    expect(Math.abs(molarMassOf(substance) / expected - 1)).toBeLessThan(1.5e-4);
  });
});
