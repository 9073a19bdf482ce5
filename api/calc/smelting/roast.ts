import type { Mineral, MineralShare } from './minerals.ts';
import type { Reaction } from './reaction.ts';
import { gramsPerGram, massOf } from './reaction.ts';
import { galenaToSulfate, roastReactions } from './roast-reactions.ts';
import { molarMassOf } from './substances.ts';

/** A dull roast, below visible glow: 800 to 1000 °F (common practice). It is over when smoking stops. */
export const dullRoastC = { low: 430, high: 540 } as const;
export const dullRoastF = { low: 800, high: 1000 } as const;

/** What a roast does to one gram of what went in, as fractions of the mass before the roast. */
export interface RoastChange {
  /** Mass after less mass before; negative is a loss. */
  massChangeFrac: number;
  sulfurDrivenOffFrac: number;
  so2Frac: number;
  arsenicTrioxideFrac: number;
}

const unchanged: RoastChange = {
  massChangeFrac: 0,
  sulfurDrivenOffFrac: 0,
  so2Frac: 0,
  arsenicTrioxideFrac: 0,
};

function changeBy(reaction: Reaction, mineral: Mineral): RoastChange {
  const before = molarMassOf(mineral);
  const { SO2 = 0, As2O3 = 0, ...solids } = reaction.gives;
  return {
    massChangeFrac: massOf(solids) / before - 1,
    sulfurDrivenOffFrac: (SO2 * molarMassOf('S')) / before,
    so2Frac: massOf({ SO2 }) / before,
    arsenicTrioxideFrac: massOf({ As2O3 }) / before,
  };
}

/** Change of a mineral on a dead roast, to the oxide. Pyrite loses 33.4 % of its mass. */
export function mineralRoastChange(mineral: Mineral): RoastChange {
  const reaction = roastReactions[mineral];
  return reaction === null ? unchanged : changeBy(reaction, mineral);
}

/** Change of galena that goes to the sulfate: it gains 26.75 % and gives off no sulfur. */
export function galenaSulfateChange(): RoastChange {
  return changeBy(galenaToSulfate, 'galena');
}

const plusShare = (sum: RoastChange, change: RoastChange, massFrac: number): RoastChange => ({
  massChangeFrac: sum.massChangeFrac + massFrac * change.massChangeFrac,
  sulfurDrivenOffFrac: sum.sulfurDrivenOffFrac + massFrac * change.sulfurDrivenOffFrac,
  so2Frac: sum.so2Frac + massFrac * change.so2Frac,
  arsenicTrioxideFrac: sum.arsenicTrioxideFrac + massFrac * change.arsenicTrioxideFrac,
});

/**
 * Change of a whole lot on a dead roast: Σ massFrac × change of each mineral. What the minerals leave of the
 * lot counts as unchanged. `galenaSulfateFrac` is the share of the galena that ends as sulfate, 0..1.
 * Three quarters pyrite, the rest quartz, loses 25.1 %.
 */
export function roastChange({
  minerals,
  galenaSulfateFrac = 0,
}: {
  minerals: readonly MineralShare[];
  galenaSulfateFrac?: number;
}): RoastChange {
  return minerals.reduce((sum, { mineral, massFrac }) => {
    if (mineral !== 'galena') return plusShare(sum, mineralRoastChange(mineral), massFrac);
    const oxide = plusShare(sum, mineralRoastChange('galena'), massFrac * (1 - galenaSulfateFrac));
    return plusShare(oxide, galenaSulfateChange(), massFrac * galenaSulfateFrac);
  }, unchanged);
}

/** SO2 from sulfur that burned, in the unit of the sulfur: 1.998 g per gram. */
export function so2FromSulfur(sulfurMass: number): number {
  return (
    sulfurMass *
    gramsPerGram({ reaction: { takes: { S: 1, O2: 1 }, gives: { SO2: 1 } }, of: 'SO2', per: 'S' })
  );
}
