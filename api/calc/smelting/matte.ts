import type { Finding } from '../finding.ts';
import { elementFrac } from './atomic-weights.ts';
import type { Range } from './range.ts';
import { gramsPerGram } from './reaction.ts';
import { substances } from './substances.ts';

/**
 * Sulfur in matte, as a fraction: common practice 25 to 30 %. A matte of 44 % copper, Cu2S with FeS, has
 * 27.5 %; D. M. Levy, *Modern Copper Smelting*, 1912, prints 28 parts in rounded figures.
 */
export const matteSulfurFrac: Range = { low: 0.25, value: 0.275, high: 0.3 };

/** Lead in matte of a lead smelt, as a fraction: common practice, wide; an assay of your own matte replaces it. */
export const matteLeadFrac: Range = { low: 0.05, value: 0.15, high: 0.3 };

const sulfurPerLead = gramsPerGram({
  reaction: { takes: { Pb: 1, S: 1 }, gives: { galena: 1 } },
  of: 'S',
  per: 'Pb',
});

/** Sulfur that lead binds as PbS, in the unit of the lead: 0.15473 g per gram. */
export function sulfurBoundByLead(leadMass: number): number {
  return leadMass * sulfurPerLead;
}

export interface MatteExpected {
  sulfurLeftG: number;
  matteG: Range;
  leadInMatteG: Range;
  findings: Finding[];
}

/**
 * Matte to expect from a charge, and the lead that goes with it.
 *
 * sulfur left = in − roasted off − oxidized by nitre and litharge − taken into the slag as FeS − given off by
 * pyrite and chalcopyrite on heating; matte = sulfur left / sulfur content of matte; lead = matte × lead
 * content, at most what the sulfur left can bind as PbS and at most the lead there is. For the high figures
 * lead catches the sulfur given off, as far as there is lead. All in grams. Where more sulfur is accounted for
 * than went in, none is left, with a finding.
 */
export function matteExpected({
  sulfurInG,
  sulfurRoastedG = 0,
  sulfurOxidizedG = 0,
  sulfurIntoSlagG = 0,
  sulfurDistilledG = 0,
  leadThereG,
  sulfurFrac = matteSulfurFrac,
  leadFrac = matteLeadFrac,
}: {
  sulfurInG: number;
  sulfurRoastedG?: number;
  sulfurOxidizedG?: number;
  sulfurIntoSlagG?: number;
  /** See `sulfurDistilledFrac`. */
  sulfurDistilledG?: number;
  leadThereG: number;
  sulfurFrac?: Range;
  leadFrac?: Range;
}): MatteExpected {
  const balanceG = sulfurInG - sulfurRoastedG - sulfurOxidizedG - sulfurIntoSlagG - sulfurDistilledG;
  const sulfurLeftG = Math.max(0, balanceG);
  const caughtByLeadG = Math.min(sulfurDistilledG, sulfurBoundByLead(leadThereG));
  const matteG = {
    low: sulfurLeftG / sulfurFrac.high,
    value: sulfurLeftG / sulfurFrac.value,
    high: (sulfurLeftG + caughtByLeadG) / sulfurFrac.low,
  };
  const mostLeadG = Math.min(leadThereG, sulfurLeftG / sulfurPerLead);
  const leadInMatteG = {
    low: Math.min(mostLeadG, matteG.low * leadFrac.low),
    value: Math.min(mostLeadG, matteG.value * leadFrac.value),
    high: Math.min(
      leadThereG,
      Math.min(mostLeadG, matteG.high * leadFrac.high) + caughtByLeadG / sulfurPerLead,
    ),
  };
  return { sulfurLeftG, matteG, leadInMatteG, findings: matteFindings({ balanceG, sulfurInG, matteG }) };
}

function matteFindings({
  balanceG,
  sulfurInG,
  matteG,
}: {
  balanceG: number;
  sulfurInG: number;
  matteG: Range;
}): Finding[] {
  if (balanceG < -1e-6 * sulfurInG) {
    return [
      {
        code: 'sulfur-over-accounted',
        level: 'warning',
        path: '/sulfurInG',
        sentence:
          `${(sulfurInG - balanceG).toFixed(1)} g of sulfur are accounted for, but only ${sulfurInG.toFixed(1)} g ` +
          `went in: look at the minerals of the lot and at the roast loss.`,
      },
    ];
  }
  if (balanceG < 0.005 * sulfurInG || sulfurInG === 0) return [];
  return [
    {
      code: 'matte-expected',
      level: 'warning',
      path: '',
      sentence:
        `Expect ${matteG.low.toFixed(1)} to ${matteG.high.toFixed(1)} g of matte. Matte carries gold and above all ` +
        `silver: keep it, weigh it, and have it assayed or treat it again.`,
    },
  ];
}

/** Iron speiss Fe5As2 that an amount of arsenic makes, in the unit of the arsenic; see `ironReactions`. */
export function speissFromArsenic(arsenicMass: number): number {
  return arsenicMass / elementFrac({ formula: substances.Fe5As2, element: 'As' });
}
