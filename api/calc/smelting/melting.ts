/** Melting points, °C: fixed points of the ITS-90 for silver and gold, CRC Handbook for lead. */
export const meltingPointsC = { lead: 327.46, silver: 961.78, gold: 1064.18 } as const;

/** Heat of fusion of lead, kJ/kg, and its specific heat, kJ/(kg K): CRC Handbook of Chemistry and Physics. */
const leadFusionKjPerKg = 23;
const leadSpecificHeat = 0.129;
/**
 * Concentrate, fluxes and slag: about 1 kJ/(kg K), and 400 kJ/kg to melt and to drive carbon dioxide off
 * (common practice). Good for telling a slip of the keyboard, not for designing a furnace.
 */
const slagSpecificHeat = 1.0;
const slagMeltingKjPerKg = 400;
const melt = { fromC: 20, toC: 1050 } as const;

/**
 * Heat that a charge itself takes up on melting, MJ: mass × (specific heat × rise + heat of melting). A
 * crucible furnace burns some five to twenty times that in fuel (common practice).
 */
export function heatToMeltMj({ leadKg, otherKg }: { leadKg: number; otherKg: number }): number {
  const riseK = melt.toC - melt.fromC;
  const leadKj = leadKg * (leadSpecificHeat * riseK + leadFusionKjPerKg);
  const otherKj = otherKg * (slagSpecificHeat * riseK + slagMeltingKjPerKg);
  return (leadKj + otherKj) / 1000;
}
