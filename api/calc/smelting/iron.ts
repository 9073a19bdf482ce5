import type { Mineral, MineralShare } from './minerals.ts';
import type { Reaction } from './reaction.ts';
import { gramsPerGram } from './reaction.ts';
import type { Substance } from './substances.ts';

/**
 * What metallic iron does to each mineral in a basic melt, per mole of mineral; null: nothing. Lead, copper
 * and antimony are set free and the sulfur becomes FeS. Arsenic is reckoned as speiss Fe5As2, as H. F.
 * Collins, *The Metallurgy of Lead*, p. 144, does for smelting charges. Zinc sulfide is not decomposed
 * at the heat of a crucible charge. Iron oxides take up iron to FeO.
 */
export const ironReactions: Readonly<Record<Mineral, Reaction | null>> = {
  pyrite: { takes: { pyrite: 1, Fe: 1 }, gives: { FeS: 2 } },
  pyrrhotite: { takes: { pyrrhotite: 1 }, gives: { FeS: 1 } },
  chalcopyrite: { takes: { chalcopyrite: 1, Fe: 1 }, gives: { Cu: 1, FeS: 2 } },
  galena: { takes: { galena: 1, Fe: 1 }, gives: { Pb: 1, FeS: 1 } },
  sphalerite: null,
  arsenopyrite: { takes: { arsenopyrite: 1, Fe: 2.5 }, gives: { FeS: 1, Fe5As2: 0.5 } },
  stibnite: { takes: { stibnite: 1, Fe: 3 }, gives: { Sb: 2, FeS: 3 } },
  chalcocite: { takes: { chalcocite: 1, Fe: 1 }, gives: { Cu: 2, FeS: 1 } },
  magnetite: { takes: { magnetite: 1, Fe: 1 }, gives: { FeO: 4 } },
  hematite: { takes: { hematite: 1, Fe: 1 }, gives: { FeO: 3 } },
  quartz: null,
};

/** Grams of something taken or given by the iron reaction, per gram of mineral: pyrite takes 0.4655 g of iron. */
export function ironReactionYield(mineral: Mineral, of: Substance): number {
  const reaction = ironReactions[mineral];
  return reaction === null ? 0 : gramsPerGram({ reaction, of, per: mineral });
}

export interface IronForLot {
  /** Iron that the minerals take up. */
  reactingG: number;
  /** Taken out at the end and weighed. */
  surplusG: number;
  toChargeG: number;
  ironSulfideG: number;
  speissG: number;
  leadSetFreeG: number;
  copperSetFreeG: number;
  antimonySetFreeG: number;
}

/** Iron is charged in surplus, as rods or nails that can be taken out: a quarter over, common practice. */
export const ironSurplusFrac = 0.25;

/**
 * Iron for a mass of lot: Σ massFrac × iron per gram of mineral, and a surplus over it. Reckoned for a
 * complete reaction; in practice some sulfur stays with lead and copper as matte.
 */
export function ironForLot({
  minerals,
  lotMassG,
  surplusFrac = ironSurplusFrac,
}: {
  minerals: readonly MineralShare[];
  lotMassG: number;
  surplusFrac?: number;
}): IronForLot {
  const total = (of: Substance) =>
    minerals.reduce(
      (sum, { mineral, massFrac }) => sum + lotMassG * massFrac * ironReactionYield(mineral, of),
      0,
    );
  const reactingG = total('Fe');
  return {
    reactingG,
    surplusG: reactingG * surplusFrac,
    toChargeG: reactingG * (1 + surplusFrac),
    ironSulfideG: total('FeS'),
    speissG: total('Fe5As2'),
    leadSetFreeG: total('Pb'),
    copperSetFreeG: total('Cu'),
    antimonySetFreeG: total('Sb'),
  };
}

/**
 * Iron sulfide that a slag of soda and quartz can dissolve, g. C. and J. J. Beringer, *A Text-book of
 * Assaying*, 9th ed. 1904: a slag of 50 g of quartz and 100 g of soda takes up 10 to 12 g of FeS. Scaled by
 * the mass of both; good for slags about as basic as that. The rest comes down as matte.
 */
export function ironSulfideDissolvedG({ quartzG, sodaAshG }: { quartzG: number; sodaAshG: number }): {
  low: number;
  high: number;
} {
  const slagMakersG = quartzG + sodaAshG;
  return { low: (slagMakersG * 10) / 150, high: (slagMakersG * 12) / 150 };
}
