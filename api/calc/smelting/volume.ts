import type { Finding } from '../finding.ts';
import { bulkDensitiesGpml, concentrateVoidFrac } from './bulk-density.ts';
import type { MineralShare } from './minerals.ts';
import type { Range } from './range.ts';
import type { Reagent } from './reagents.ts';
import { lotSpecificGravity } from './specific-gravity.ts';

/** A charge boils and foams: at most two thirds of the crucible, never above three quarters (common practice). */
export const fillLimits = { aim: 2 / 3, never: 3 / 4 } as const;
/** Once quiet, the melt stands at about a third of the bulk volume (common practice). */
export const settledFrac = 1 / 3;

export interface ChargeVolume {
  bulkVolumeMl: Range;
  /** Smallest crucible that the charge fills to two thirds. */
  smallestCrucibleMl: number;
  settledVolumeMl: number;
  /** Bulk volume over crucible volume; null where the crucible's volume is not known. */
  fillFrac: number | null;
  findings: Finding[];
}

/**
 * Loose bulk volume of a mixed charge against its crucible: V = Σ mass / bulk density. Mixed powders pack into
 * each other, so the sum is rather high than low. The concentrate's bulk density is its specific gravity times
 * 1 − voids. Over two thirds of the crucible: a warning; over three quarters: a blocker.
 */
export function chargeVolume({
  concentrate,
  reagents,
  crucibleVolumeMl,
}: {
  concentrate: { massG: number; minerals: readonly MineralShare[] };
  reagents: readonly { reagent: Reagent; massG: number }[];
  crucibleVolumeMl: number | null;
}): ChargeVolume {
  const solidMl = concentrate.massG / lotSpecificGravity({ minerals: concentrate.minerals });
  const reagentMl = (bound: keyof Range) =>
    reagents.reduce((sum, { reagent, massG }) => sum + massG / bulkDensitiesGpml[reagent][bound], 0);
  const bulkVolumeMl = {
    low: solidMl / (1 - concentrateVoidFrac.low) + reagentMl('high'),
    value: solidMl / (1 - concentrateVoidFrac.value) + reagentMl('value'),
    high: solidMl / (1 - concentrateVoidFrac.high) + reagentMl('low'),
  };
  const smallestCrucibleMl = bulkVolumeMl.value / fillLimits.aim;
  const fillFrac = crucibleVolumeMl === null ? null : bulkVolumeMl.value / crucibleVolumeMl;
  return {
    bulkVolumeMl,
    smallestCrucibleMl,
    settledVolumeMl: bulkVolumeMl.value * settledFrac,
    fillFrac,
    findings: fillFindings({ bulkVolumeMl, smallestCrucibleMl, crucibleVolumeMl }),
  };
}

/** A volume to be had at least: millilitres at the bench, litres at the furnace; rounded up to three figures. */
function saidVolume(volumeMl: number): string {
  const step = 10 ** Math.max(0, Math.floor(Math.log10(Math.max(1, volumeMl))) - 2);
  const roundedMl = step * Math.ceil(volumeMl / step - 1e-9);
  return roundedMl < 1000 ? `${roundedMl} mL` : `${Number((roundedMl / 1000).toPrecision(3))} L`;
}

function fillFindings({
  bulkVolumeMl,
  smallestCrucibleMl,
  crucibleVolumeMl,
}: {
  bulkVolumeMl: Range;
  smallestCrucibleMl: number;
  crucibleVolumeMl: number | null;
}): Finding[] {
  const right = `a crucible of at least ${saidVolume(smallestCrucibleMl)}, or a smaller charge, would be right`;
  if (crucibleVolumeMl === null) {
    return [
      {
        code: 'crucible-volume-missing',
        level: 'note',
        path: '/crucibleVolumeMl',
        sentence: `The crucible's volume is not given; ${right}.`,
      },
    ];
  }
  const percentFull = (volumeMl: number) => `${Math.round((100 * volumeMl) / crucibleVolumeMl)} %`;
  const finding = (code: string, level: Finding['level'], sentence: string): Finding[] => [
    { code, level, path: '/crucibleVolumeMl', sentence },
  ];
  if (bulkVolumeMl.value > fillLimits.never * crucibleVolumeMl) {
    return finding(
      'crucible-over-filled',
      'blocker',
      `The charge would fill the crucible of ${crucibleVolumeMl} mL to ${percentFull(bulkVolumeMl.value)}; above ` +
        `three quarters it boils over. ${right[0]?.toUpperCase()}${right.slice(1)}.`,
    );
  }
  if (bulkVolumeMl.value > fillLimits.aim * crucibleVolumeMl) {
    return finding(
      'crucible-rather-full',
      'warning',
      `The charge would fill the crucible of ${crucibleVolumeMl} mL to ${percentFull(bulkVolumeMl.value)}, over two ` +
        `thirds; ${right}.`,
    );
  }
  if (bulkVolumeMl.high > fillLimits.never * crucibleVolumeMl) {
    return finding(
      'crucible-may-be-over-filled',
      'note',
      `With loosely packed reagents the charge could fill the crucible to ${percentFull(bulkVolumeMl.high)}: try it cold ` +
        `in the crucible before the first melt.`,
    );
  }
  return [];
}
