import type { Finding } from '../finding.ts';
import { leadPerGramOfMineral, reductionToSulfate, reductionToSulfurDioxide } from './lead-oxidation.ts';
import type { Mineral, MineralShare } from './minerals.ts';

/** Grams of lead reduced from litharge by a gram of mineral, with where the figures come from. */
export interface ReducingPowers {
  source: string;
  gramsLeadPerGram: Readonly<Partial<Record<Mineral, number>>>;
}

/** Working values with soda and litharge; ranges given there as 7 to 8 stand as 7.5. */
export const beringerReducingPowers: ReducingPowers = {
  source: 'C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904',
  gramsLeadPerGram: {
    pyrite: 11,
    sphalerite: 7.5,
    chalcopyrite: 7.5,
    arsenopyrite: 7.5,
    stibnite: 6,
    galena: 3.3,
    quartz: 0,
  },
};

/** Measured with much litharge and soda. For what Beringer does not list, pyrrhotite and chalcocite above all. */
export const bugbeeReducingPowers: ReducingPowers = {
  source: 'E. E. Bugbee, A Textbook of Fire Assaying, 1922 (from memory)',
  gramsLeadPerGram: {
    pyrite: 11.05,
    pyrrhotite: 8.71,
    sphalerite: 7.87,
    chalcopyrite: 7.85,
    arsenopyrite: 8.18,
    stibnite: 6.75,
    chalcocite: 4.38,
    galena: 3.41,
    quartz: 0,
  },
};

/** Theory from the atomic weights: least (sulfur to SO2) and most (sulfur to sulfate), g lead per g of mineral. */
export function theoreticalReducingPower(mineral: Mineral): { toSulfurDioxide: number; toSulfate: number } {
  return {
    toSulfurDioxide: leadPerGramOfMineral(reductionToSulfurDioxide[mineral], mineral),
    toSulfate: leadPerGramOfMineral(reductionToSulfate[mineral], mineral),
  };
}

/** Grams of lead per gram of lot; low and high are theory to SO2 and to sulfate. */
export interface LotReducingPower {
  value: number;
  low: number;
  high: number;
  findings: Finding[];
}

/**
 * Reducing power of a lot, g of lead reduced per g of lot: Σ massFrac × reducing power of each mineral. A
 * mineral that the set of working values does not list stands at the middle of its two theoretical values,
 * with a finding; iron oxides, which take lead up, at the theory to FeO. What the minerals leave of the lot
 * counts as inert. A preliminary assay of the lot is better than any of it.
 */
export function reducingPower({
  minerals,
  powers = beringerReducingPowers,
}: {
  minerals: readonly MineralShare[];
  powers?: ReducingPowers;
}): LotReducingPower {
  const lot: LotReducingPower = { value: 0, low: 0, high: 0, findings: [] };
  for (const { mineral, massFrac } of minerals) {
    const { toSulfurDioxide, toSulfate } = theoreticalReducingPower(mineral);
    const ironOxide = mineral === 'magnetite' || mineral === 'hematite';
    const working = ironOxide ? toSulfurDioxide : powers.gramsLeadPerGram[mineral];
    if (working === undefined) lot.findings.push(notListed(mineral, powers));
    lot.value += massFrac * (working ?? (toSulfurDioxide + toSulfate) / 2);
    lot.low += massFrac * toSulfurDioxide;
    lot.high += massFrac * toSulfate;
  }
  return lot;
}

function notListed(mineral: Mineral, powers: ReducingPowers): Finding {
  return {
    code: 'reducing-power-not-listed',
    level: 'note',
    path: '/minerals',
    sentence:
      `${powers.source} gives no reducing power for ${mineral}; the middle between its two theoretical ` +
      `values is used. A preliminary assay would settle it.`,
  };
}
