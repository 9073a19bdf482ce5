import type { Finding } from '../finding.ts';
import { elementFrac } from './atomic-weights.ts';
import { ironForLot, ironSulfideDissolvedG } from './iron.ts';
import type { MatteExpected } from './matte.ts';
import { matteExpected, speissFromArsenic } from './matte.ts';
import type { MineralShare } from './minerals.ts';
import { elementFractions } from './minerals.ts';
import type { OxygenBalance, ReagentMasses } from './oxygen-balance.ts';
import { isSulfide, oxygenBalance } from './oxygen-balance.ts';
import { recipeFindings } from './recipe-findings.ts';
import type { Reagent } from './reagents.ts';
import { so2FromSulfur } from './roast.ts';
import { bringSlagToAim } from './slag.ts';
import type { SlagPart } from './slag-oxides.ts';
import { slagPartsOfLot } from './slag-oxides.ts';
import { molarMassOf, substances } from './substances.ts';
import { sulfurDistilledFrac } from './sulfur-distilled.ts';
import type { ChargeVolume } from './volume.ts';
import { chargeVolume } from './volume.ts';

export interface Recipe {
  minerals: readonly MineralShare[];
  /** As received, before any roast. */
  lotMassG: number;
  reagents: ReagentMasses;
  /** Share of the sulfur that a roast drove off before, 0 without a roast, 1 for a dead roast. */
  sulfurRoastedFrac: number;
  /** Of the raw lot, from a preliminary assay, g lead per g; null: from the minerals. */
  measuredReducingPower?: number | null;
  /** Null: not known, which is said; left out: not asked. */
  crucibleVolumeMl?: number | null;
}

/** What a recipe will do, as far as stoichiometry and working values can tell. */
export interface RecipeWork {
  oxygen: OxygenBalance;
  /** Iron that the sulfides left can take up, and how much of it is charged, g. */
  ironNeededG: number;
  ironSulfideG: number;
  ironSulfideDissolvedG: number;
  /** Given off by pyrite and chalcopyrite that nothing else took. */
  sulfurDistilledG: number;
  /** What of that burns above the charge, and what burns in it and goes to no sulfate: given off at most. */
  sulfurDioxideG: number;
  silicateDegree: number | null;
  matte: MatteExpected;
  speissG: number;
  volume: ChargeVolume;
  findings: Finding[];
}

const sodaAshEquivalent = (reagents: ReagentMasses): number =>
  (reagents['soda ash'] ?? 0) +
  ((reagents['sodium bicarbonate'] ?? 0) * molarMassOf('Na2CO3')) / (2 * molarMassOf('NaHCO3'));

/** Slag makers of a charge: litharge that is not reduced; soda and nitre less what the sulfate takes of them. */
function slagPartsOfReagents(reagents: ReagentMasses, lithargeG: number, sulfateMol: number): SlagPart[] {
  const potashMol = Math.min((reagents.nitre ?? 0) / molarMassOf('KNO3') / 2, sulfateMol);
  const sodaG = Math.min(sodaAshEquivalent(reagents), (sulfateMol - potashMol) * molarMassOf('Na2CO3'));
  const masses: Partial<Record<Reagent, number>> = {
    ...reagents,
    litharge: lithargeG,
    nitre: (reagents.nitre ?? 0) - potashMol * 2 * molarMassOf('KNO3'),
    'soda ash': sodaAshEquivalent(reagents) - sodaG,
    'sodium bicarbonate': 0,
  };
  return (Object.entries(masses) as [Reagent, number][])
    .filter(([, massG]) => massG > 0)
    .map(([material, massG]) => ({ material, massG }));
}

/** The minerals of a lot with their sulfides brought down to what is left of them. */
function sulfidesLeft(minerals: readonly MineralShare[], leftFrac: number): MineralShare[] {
  return minerals
    .filter(isSulfide)
    .map(({ mineral, massFrac }) => ({ mineral, massFrac: massFrac * leftFrac }));
}

/**
 * Works out what a recipe will do to a lot: lead reduced, sulfides oxidized, iron taken up, degree of the
 * slag, matte and speiss left, and whether it fits the crucible. Oxidation comes first, then iron on what is
 * left, then matte. Sulfur oxidized in the crucible goes partly to sulfate, held by potash and soda, which
 * then make no slag. Iron sulfide dissolves in the slag only as far as `ironSulfideDissolvedG` goes.
 */
export function workRecipe(recipe: Recipe): RecipeWork {
  const { minerals, lotMassG, reagents, sulfurRoastedFrac, crucibleVolumeMl } = recipe;
  const oxygen = oxygenBalance(recipe);
  const elements = elementFractions({ minerals });
  const sulfurInG = lotMassG * (elements.S ?? 0);
  const sulfurBurnedG = sulfurInG * (oxygen.sulfidesOxidizedFrac - sulfurRoastedFrac);

  const ironThereG = reagents.iron ?? 0;
  const left = sulfidesLeft(minerals, 1 - oxygen.sulfidesOxidizedFrac);
  const iron = ironForLot({ minerals: left, lotMassG });
  const reactedFrac = iron.reactingG > 0 ? Math.min(1, ironThereG / iron.reactingG) : 0;
  const ironSulfideG = reactedFrac * iron.ironSulfideG;
  const lotOxides = slagPartsOfLot({ minerals, lotMassG, sulfidesOxidizedFrac: oxygen.sulfidesOxidizedFrac });
  const quartzG = lotOxides.find((part) => part.material === 'SiO2')?.massG ?? 0;
  const dissolves = ironSulfideDissolvedG({
    quartzG: quartzG + (reagents.silica ?? 0),
    sodaAshG: sodaAshEquivalent(reagents),
  });
  const dissolvedG = Math.min(ironSulfideG, (dissolves.low + dissolves.high) / 2);

  const sulfateMol = (sulfurBurnedG * oxygen.sulfateFrac) / molarMassOf('S');
  // what iron has not caught
  const sulfurDistilledG = (1 - reactedFrac) * lotMassG * sulfurDistilledFrac({ minerals: left });

  const slag = bringSlagToAim({
    parts: [...slagPartsOfReagents(reagents, oxygen.lithargeToSlagG, sulfateMol), ...lotOxides],
  });
  const matte = matteExpected({
    sulfurInG,
    sulfurRoastedG: sulfurInG * sulfurRoastedFrac,
    sulfurOxidizedG: sulfurBurnedG,
    sulfurIntoSlagG: dissolvedG * elementFrac({ formula: substances.FeS, element: 'S' }),
    sulfurDistilledG,
    leadThereG: (reagents.lead ?? 0) + oxygen.leadReducedG + lotMassG * (elements.Pb ?? 0),
  });
  const speissG = speissFromArsenic(lotMassG * (elements.As ?? 0) * (1 - oxygen.sulfidesOxidizedFrac));
  const volume = chargeVolume({
    concentrate: { massG: lotMassG, minerals },
    reagents: (Object.entries(reagents) as [Reagent, number][]).map(([reagent, massG]) => ({
      reagent,
      massG,
    })),
    crucibleVolumeMl: crucibleVolumeMl ?? null,
  });
  return {
    oxygen,
    ironNeededG: iron.reactingG,
    ironSulfideG,
    ironSulfideDissolvedG: dissolvedG,
    sulfurDistilledG,
    sulfurDioxideG: so2FromSulfur(sulfurDistilledG + sulfurBurnedG * (1 - oxygen.sulfateFrac)),
    silicateDegree: slag.degreeNow,
    matte,
    speissG,
    volume,
    findings: [
      ...recipeFindings({ recipe, oxygen, ironNeededG: iron.reactingG, ironSulfideG, dissolvedG, speissG }),
      ...slag.findings,
      ...matte.findings,
      ...(crucibleVolumeMl === undefined ? [] : volume.findings),
    ],
  };
}
