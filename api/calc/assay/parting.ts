/** Least mass of silver to gold at which nitric acid parts a bead cleanly: 2½ to 1 (common practice). */
export const leastSilverToGoldForParting = 2.5;

/**
 * Silver to add (inquart) so that a bead parts: ratio × gold − silver already in the bead, in mg, never below
 * zero. C. and J. J. Beringer, *A Text-book of Assaying*, 9th ed. 1904, "Inquartation": a 10 mg bead with 8 mg
 * of gold takes 18 mg.
 */
export function silverToAddForPartingMg({
  goldMg,
  silverMg,
  silverToGold = leastSilverToGoldForParting,
}: {
  goldMg: number;
  silverMg: number;
  silverToGold?: number;
}): number {
  return Math.max(0, silverToGold * goldMg - silverMg);
}
