import type { Mineral, MineralShare } from './minerals.ts';

/**
 * Specific gravities, the middle of the ranges in E. S. Dana and W. E. Ford, *A Textbook of Mineralogy*, 4th
 * ed. 1932 (from memory; pyrite 4.95-5.10, galena 7.4-7.6, sphalerite 3.9-4.1, quartz 2.65).
 */
export const mineralSpecificGravities: Readonly<Record<Mineral, number>> = {
  pyrite: 5.02,
  pyrrhotite: 4.61,
  chalcopyrite: 4.2,
  galena: 7.5,
  sphalerite: 4.0,
  arsenopyrite: 6.05,
  stibnite: 4.57,
  chalcocite: 5.65,
  magnetite: 5.17,
  hematite: 5.26,
  quartz: 2.65,
};

/**
 * Specific gravity of a mixture without voids: 1 / Σ (massFrac / specific gravity). The fractions must add up
 * to 1. 27.2 % at 5.1 with 72.8 % at 2.6 gives 3.0.
 */
export function mixtureSpecificGravity(
  parts: readonly { massFrac: number; specificGravity: number }[],
): number {
  return 1 / parts.reduce((volume, { massFrac, specificGravity }) => volume + massFrac / specificGravity, 0);
}

/** Specific gravity of a lot; what its minerals leave of it is taken for quartz. */
export function lotSpecificGravity({ minerals }: { minerals: readonly MineralShare[] }): number {
  const rest = 1 - minerals.reduce((sum, { massFrac }) => sum + massFrac, 0);
  return mixtureSpecificGravity([
    ...minerals.map(({ mineral, massFrac }) => ({
      massFrac,
      specificGravity: mineralSpecificGravities[mineral],
    })),
    { massFrac: Math.max(0, rest), specificGravity: mineralSpecificGravities.quartz },
  ]);
}
