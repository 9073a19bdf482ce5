import { leadPerGramOfMineral, reductionToSulfurDioxide } from './lead-oxidation.ts';
import type { MineralShare } from './minerals.ts';
import { mineralFormulas } from './minerals.ts';
import { leadFracOfLitharge, nitrePower, reducerPowers } from './nitre.ts';
import { gramsPerGram } from './reaction.ts';
import type { Reagent } from './reagents.ts';
import { reducingPower } from './reducing-power.ts';
import { roastReactions } from './roast-reactions.ts';

/** Grams of each reagent in a charge; those not named are not in it. */
export type ReagentMasses = Readonly<Partial<Record<Reagent, number>>>;

/** What reduces and what oxidizes in a charge, all as grams of lead reduced from litharge. */
export interface OxygenBalance {
  /** By the sulfides that the roast left. */
  sulfidesG: number;
  /** By flour and charcoal. */
  reducersG: number;
  /** Taken up by iron oxides, those of the calcine among them. */
  ironOxidesG: number;
  nitreG: number;
  leadReducedG: number;
  lithargeToSlagG: number;
  /** Share of the lot's sulfides that roast, nitre, iron oxide and litharge together oxidize, 0..1. */
  sulfidesOxidizedFrac: number;
  /** Of the sulfur oxidized in the crucible, the share that goes to sulfate and stays; the rest leaves as SO2. */
  sulfateFrac: number;
  /** Nitre beyond what there is to oxidize, g; it attacks lead and crucible. */
  nitreInExcessG: number;
}

export const isSulfide = ({ mineral }: MineralShare): boolean => 'S' in mineralFormulas[mineral];

/** Fe2O3 that a dead roast makes, g per g of lot. */
function roastedIronOxideFrac(minerals: readonly MineralShare[]): number {
  return minerals.reduce((sum, { mineral, massFrac }) => {
    const reaction = roastReactions[mineral];
    return reaction === null ? sum : sum + massFrac * gramsPerGram({ reaction, of: 'Fe2O3', per: mineral });
  }, 0);
}

/**
 * Balance of oxygen in a charge, counted in lead: sulfides, flour and charcoal reduce litharge; nitre and
 * iron oxides take lead up. Lead reduced = sulfides + reducers − iron oxides − nitre, at least 0 and at most
 * the lead of the litharge. Working values as in `nitre.ts` and `reducing-power.ts`; a measured reducing
 * power of the raw lot replaces theirs. A roast of degree f leaves 1 − f of each sulfide.
 */
export function oxygenBalance({
  minerals,
  lotMassG,
  reagents,
  sulfurRoastedFrac,
  measuredReducingPower = null,
}: {
  minerals: readonly MineralShare[];
  lotMassG: number;
  reagents: ReagentMasses;
  sulfurRoastedFrac: number;
  measuredReducingPower?: number | null;
}): OxygenBalance {
  const sulfidePower = reducingPower({ minerals: minerals.filter(isSulfide) });
  const oxidePower = reducingPower({ minerals: minerals.filter((share) => !isSulfide(share)) });
  const power =
    measuredReducingPower === null ? sulfidePower.value : measuredReducingPower - oxidePower.value;
  const hematitePower = leadPerGramOfMineral(reductionToSulfurDioxide.hematite, 'hematite');
  const calcineFrac = sulfurRoastedFrac * roastedIronOxideFrac(minerals.filter(isSulfide));

  const sulfidesG = Math.max(0, (1 - sulfurRoastedFrac) * power * lotMassG);
  const ironOxidesG = -(oxidePower.value + calcineFrac * hematitePower) * lotMassG;
  const reducersG =
    (reagents.flour ?? 0) * reducerPowers.flour + (reagents.charcoal ?? 0) * reducerPowers.charcoal;
  const nitreG = (reagents.nitre ?? 0) * nitrePower.value;
  const lithargeLeadG = (reagents.litharge ?? 0) * leadFracOfLitharge;

  const surplusG = sulfidesG + reducersG - ironOxidesG - nitreG;
  const leadReducedG = Math.min(Math.max(0, surplusG), lithargeLeadG);
  const oxidantsG = Math.max(0, nitreG + ironOxidesG + leadReducedG - reducersG);
  const burnedFrac = sulfidesG > 0 ? Math.min(1, oxidantsG / sulfidesG) : 0;
  return {
    sulfidesG,
    reducersG,
    ironOxidesG,
    nitreG,
    leadReducedG,
    lithargeToSlagG: (lithargeLeadG - leadReducedG) / leadFracOfLitharge,
    sulfidesOxidizedFrac: sulfurRoastedFrac + (1 - sulfurRoastedFrac) * burnedFrac,
    sulfateFrac: shareToSulfate(power, sulfidePower),
    nitreInExcessG: Math.max(0, nitreG - sulfidesG - reducersG) / nitrePower.value,
  };
}

/** Where the reducing power lies between its theory to SO2 (0) and to sulfate (1). */
function shareToSulfate(power: number, { low, high }: { low: number; high: number }): number {
  return high > low ? Math.min(1, Math.max(0, (power - low) / (high - low))) : 0;
}
