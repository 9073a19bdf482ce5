import type { Finding } from '../finding.ts';
import type { Mineral, MineralShare } from './minerals.ts';
import { mineralRoastChange, roastChange, so2FromSulfur } from './roast.ts';
import { extremeSulfurFrac, roastLossLimits } from './roast-sulfur-range.ts';

export interface SulfurFromRoastLoss {
  /** Fractions of the mass before the roast; null where the loss does not fit the minerals. */
  sulfurDrivenOff: { valueFrac: number; lowFrac: number; highFrac: number; so2Frac: number } | null;
  findings: Finding[];
}

/** Minerals that a lot of unknown mineralogy is taken to consist of, for the range. */
const commonSulfides: Mineral[] = [
  'pyrite',
  'pyrrhotite',
  'chalcopyrite',
  'galena',
  'sphalerite',
  'arsenopyrite',
  'stibnite',
];

const percent = (frac: number) => `${(100 * frac).toFixed(1)} %`;

/**
 * Sulfur driven off, worked back from the mass lost in a roast.
 *
 * sulfur = loss × (sulfur driven off / mass lost) of the lot roasted dead, every mineral to the same degree;
 * low and high are over all ways in which the minerals may have roasted unequally, galena also to the
 * sulfate. Oxygen taken up hides part of the sulfur: all pyrite gives 1.598 g of sulfur per gram lost, all
 * pyrrhotite 3.98; arsenic leaves as mass without sulfur: all arsenopyrite gives 0.39. Without minerals the
 * value is that of pyrite and the range that of the common sulfides. Dust carried off is taken for loss.
 *
 * @param lossFrac mass lost over mass before, 0..1; a gain is negative. Where it is outside what the minerals
 * can lose: null and a finding. Where the lot roasted dead would not lose as much, or would gain: the middle
 * of the range.
 */
export function sulfurFromRoastLoss({
  lossFrac,
  minerals,
}: {
  lossFrac: number;
  minerals: readonly MineralShare[];
}): SulfurFromRoastLoss {
  const named = minerals.filter((share) => share.massFrac > 0);
  if (named.length === 0) return withoutMinerals(lossFrac);
  const { least, most } = roastLossLimits(named);
  if (lossFrac > most + 1e-9 || lossFrac < least - 1e-9) return outside(lossFrac, { least, most });

  const lowFrac = extremeSulfurFrac({ minerals: named, lossFrac, side: -1 });
  const highFrac = extremeSulfurFrac({ minerals: named, lossFrac, side: 1 });
  const dead = roastChange({ minerals: named });
  const degree = -lossFrac / dead.massChangeFrac;
  const valueFrac = degree >= 0 && degree <= 1 ? degree * dead.sulfurDrivenOffFrac : (lowFrac + highFrac) / 2;
  return {
    sulfurDrivenOff: { valueFrac, lowFrac, highFrac, so2Frac: so2FromSulfur(valueFrac) },
    findings: [],
  };
}

function withoutMinerals(lossFrac: number): SulfurFromRoastLoss {
  const changes = commonSulfides.map(mineralRoastChange);
  const most = Math.max(...changes.map((change) => -change.massChangeFrac));
  if (lossFrac < 0 || lossFrac > most) return outside(lossFrac, { least: 0, most });
  const ratios = changes.map((change) => change.sulfurDrivenOffFrac / -change.massChangeFrac);
  const pyrite = mineralRoastChange('pyrite');
  const valueFrac = Math.min(
    (lossFrac * pyrite.sulfurDrivenOffFrac) / -pyrite.massChangeFrac,
    pyrite.sulfurDrivenOffFrac,
  );
  return {
    sulfurDrivenOff: {
      valueFrac,
      lowFrac: lossFrac * Math.min(...ratios),
      highFrac: Math.min(lossFrac * Math.max(...ratios), pyrite.sulfurDrivenOffFrac),
      so2Frac: so2FromSulfur(valueFrac),
    },
    findings: [
      {
        code: 'roast-minerals-unknown',
        level: 'warning',
        path: '/minerals',
        sentence:
          'No minerals are named for the lot, so the sulfur driven off is reckoned as if it were all pyrite; ' +
          'with pyrrhotite or chalcopyrite more went off than that, with arsenopyrite less.',
      },
    ],
  };
}

function outside(lossFrac: number, limits: { least: number; most: number }): SulfurFromRoastLoss {
  const { least, most } = limits;
  return {
    sulfurDrivenOff: null,
    findings: [
      {
        code: 'roast-loss-outside-minerals',
        level: 'blocker',
        path: '/lossFrac',
        sentence:
          `The roast loss is ${percent(lossFrac)} of the mass, but these minerals can lose between ` +
          `${percent(least)} and ${percent(most)}: look at the weighings, at dust carried off, at moisture ` +
          `before the roast, and at the minerals named.`,
      },
    ],
  };
}
