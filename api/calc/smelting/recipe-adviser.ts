import type { Finding } from '../finding.ts';
import { arsenicInRoast } from './arsenic-in-roast.ts';
import type { AdvisedAmount, AdviceWanted } from './advised-amount.ts';
import { adviceLotMassG, wholeG } from './advised-amount.ts';
import { adviseFlux } from './flux-advice.ts';
import { adviseCollector, adviseIron } from './metal-advice.ts';
import { adviseOxidant } from './oxidant-advice.ts';
import type { ReagentMasses } from './oxygen-balance.ts';
import type { RecipeWork } from './recipe-work.ts';
import { workRecipe } from './recipe-work.ts';
import { silicateAim } from './slag.ts';
import { slagPartsOfLot } from './slag-oxides.ts';

export interface RecipeAdvice {
  /** In whole grams; empty where nothing can be proposed: a blocker then says why. */
  amounts: AdvisedAmount[];
  /** What the proposed recipe will do to 100 g; null where nothing is proposed. */
  work: RecipeWork | null;
  findings: Finding[];
}

/**
 * Proposes a first recipe for a lot from its minerals, number by number, with the reason for each, and works
 * out what it will do (`workRecipe`). It is a starting point for a test smelt, not for a season: the minerals
 * are estimates, and crucible, heat and grain decide the rest. Without minerals: a blocker. Findings name what
 * speaks against the treatment, such as too much nitre, undissolved iron sulfide, or arsenic in the roast.
 */
export function adviseRecipe(wanted: AdviceWanted): RecipeAdvice {
  const blocked = blockers(wanted);
  if (blocked.length > 0) return { amounts: [], work: null, findings: blocked };

  const { minerals, treatment, collector, buttonLeadG = 30, measuredReducingPower = null } = wanted;
  const sulfurRoastedFrac = treatment === 'roasted' ? (wanted.sulfurRoastedFrac ?? 1) : 0;
  const oxidant = adviseOxidant({ ...wanted, buttonLeadG, sulfurRoastedFrac });
  const iron = treatment === 'iron' ? adviseIron(minerals) : [];
  const sulfidesOxidizedFrac = treatment === 'oxidizing' ? oxidant.sulfidesOxidizedFrac : sulfurRoastedFrac;
  const flux = adviseFlux({
    lotParts: slagPartsOfLot({ minerals, lotMassG: adviceLotMassG, sulfidesOxidizedFrac }),
    extraSodaG: oxidant.sulfateSodaG,
    nitreToSlagG: oxidant.nitreToSlagG,
    aimDegree: wanted.aimDegree ?? (treatment === 'iron' ? silicateAim.low : silicateAim.value),
  });
  const collectors = adviseCollector({
    minerals,
    collector,
    buttonLeadG,
    sulfidesLeftFrac: treatment === 'iron' ? 0 : 1 - sulfidesOxidizedFrac,
  });

  const amounts = [...collectors, ...flux, ...oxidant.amounts, ...iron]
    .map((amount) => ({ ...amount, gramsPerHundredG: Math.round(amount.gramsPerHundredG) }))
    .filter((amount) => amount.gramsPerHundredG > 0);
  const reagents: ReagentMasses = Object.fromEntries(
    amounts.map(({ reagent, gramsPerHundredG }) => [reagent, gramsPerHundredG]),
  );
  const work = workRecipe({
    minerals,
    lotMassG: adviceLotMassG,
    reagents,
    sulfurRoastedFrac,
    measuredReducingPower,
  });
  return { amounts, work, findings: [...treatmentFindings(wanted, work), ...work.findings] };
}

function blockers({ minerals }: Pick<AdviceWanted, 'minerals'>): Finding[] {
  if (minerals.some((share) => share.massFrac > 0)) return [];
  const sentence =
    'No minerals are named for the lot, and a recipe cannot be proposed without: name them with their shares, by ' +
    'eye under a lens, from a panned sample, or from an assay.';
  return [{ code: 'minerals-missing', level: 'blocker', path: '/minerals', sentence }];
}

/** What speaks against the treatment itself for this lot, whatever the amounts. */
export function treatmentFindings(
  { minerals, treatment }: Pick<AdviceWanted, 'minerals' | 'treatment'>,
  work: RecipeWork,
): Finding[] {
  const findings = treatment === 'roasted' ? arsenicInRoast(minerals) : [];
  if (treatment === 'as it is' && work.matte.matteG.value > 20) {
    findings.push({
      code: 'too-much-matte',
      level: 'warning',
      path: '/treatment',
      sentence:
        `Smelted as it is, 100 g would give about ${wholeG(work.matte.matteG.value)} of matte, which keeps much of the silver ` +
        `and some gold: roast first, oxidize with nitre, or sell the concentrate.`,
    });
  }
  return findings;
}
