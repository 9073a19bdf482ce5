import { Dec, sumOf } from '../money.ts';
import type { Mineral } from '../smelting/minerals.ts';

/** Decimals that a blended share is kept to: a hundredth of a percent is finer than any count of grains. */
const DECIMALS = 4;

interface MineralShare {
  mineral: Mineral;
  massFrac: string;
}

/**
 * Minerals of a blend, as fractions of its dry mass: Σ massᵢ × fracᵢ ÷ Σ massᵢ for each mineral (common practice: mass
 * is additive). Masses in one unit, kg. Empty where the minerals of any part are not known: they would count as none.
 */
export function blendedMinerals(
  parts: readonly { dryMassKg: string; minerals: readonly MineralShare[] }[],
): MineralShare[] {
  if (parts.length === 0 || parts.some(({ minerals }) => minerals.length === 0)) return [];
  const whole = sumOf(parts.map(({ dryMassKg }) => dryMassKg));
  const names = [...new Set(parts.flatMap(({ minerals }) => minerals.map(({ mineral }) => mineral)))];
  return names.toSorted().flatMap((mineral) => {
    const mass = sumOf(
      parts.flatMap(({ dryMassKg, minerals }) =>
        minerals
          .filter((one) => one.mineral === mineral)
          .map((one) => new Dec(one.massFrac).times(dryMassKg)),
      ),
    );
    const massFrac = mass.div(whole).toDecimalPlaces(DECIMALS, Dec.ROUND_DOWN);
    return massFrac.isZero() ? [] : [{ mineral, massFrac: massFrac.toFixed() }];
  });
}
