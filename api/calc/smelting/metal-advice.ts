import type { AdvisedAmount } from './advised-amount.ts';
import { adviceLotMassG, adviceSources, wholeG } from './advised-amount.ts';
import { ironForLot, ironSurplusFrac } from './iron.ts';
import { matteLeadFrac, matteSulfurFrac } from './matte.ts';
import type { MineralShare } from './minerals.ts';
import { elementFractions } from './minerals.ts';
import { leadFracOfLitharge } from './nitre.ts';
import { sulfurDistilledFrac } from './sulfur-distilled.ts';

/** Lead to collect with, and what the matte of the sulfides left will take of it, as metal or as litharge. */
export function adviseCollector({
  minerals,
  collector,
  buttonLeadG,
  sulfidesLeftFrac,
}: {
  minerals: readonly MineralShare[];
  collector: 'lead' | 'litharge';
  buttonLeadG: number;
  sulfidesLeftFrac: number;
}): AdvisedAmount[] {
  const sulfurLeftFrac = (elementFractions({ minerals }).S ?? 0) - sulfurDistilledFrac({ minerals });
  const sulfurLeftG = adviceLotMassG * sulfidesLeftFrac * sulfurLeftFrac;
  const leadToMatteG = (sulfurLeftG / matteSulfurFrac.value) * matteLeadFrac.value;
  const leadG = buttonLeadG + leadToMatteG;
  const why =
    `${wholeG(buttonLeadG)} of lead to collect gold and silver` +
    (leadToMatteG > 0.5 ? `, and ${wholeG(leadToMatteG)} that the matte will take` : '');
  if (collector === 'lead') {
    return [
      { reagent: 'lead', gramsPerHundredG: leadG, why: `${why}.`, source: adviceSources.commonPractice },
    ];
  }
  return [
    {
      reagent: 'litharge',
      gramsPerHundredG: leadG / leadFracOfLitharge,
      why: `${why}; litharge holds 92.83 % lead.`,
      source: `common practice; ${adviceSources.stoichiometry}`,
    },
  ];
}

/** Iron for the sulfides of a lot, with a surplus. */
export function adviseIron(minerals: readonly MineralShare[]): AdvisedAmount[] {
  const iron = ironForLot({ minerals, lotMassG: adviceLotMassG });
  return [
    {
      reagent: 'iron',
      gramsPerHundredG: iron.toChargeG,
      why:
        `The minerals take up ${wholeG(iron.reactingG)}; ${100 * ironSurplusFrac} % over as rods or nails that can be taken ` +
        `out and weighed.`,
      source: `${adviceSources.stoichiometry}; surplus common practice`,
    },
  ];
}
