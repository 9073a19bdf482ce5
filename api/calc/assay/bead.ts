import type { Finding } from '../finding.ts';
import { beadFindings, partingFindings } from './bead-findings.ts';
import { figure, percentFigure } from './figures.ts';
import type { TestSmelt } from './test-smelt.ts';
import { constant, measuredFrom, minus, over, plus, times, traced } from './traced.ts';
import type { Traced } from './traced.ts';
import { sources } from './uncertainty-budget.ts';
import { weighedMg } from './weighing.ts';

/** Metal of the sample, mg; null where it could not be worked out. */
export interface BeadMetal {
  goldMg: Traced | null;
  silverMg: Traced | null;
  goldPlusSilverMg: Traced | null;
}

const none: BeadMetal = { goldMg: null, silverMg: null, goldPlusSilverMg: null };

/**
 * Gold and silver of the sample from bead, parted gold and blank, all in mg.
 *
 * Parted: gold = parted mass; silver = bead − parted gold − blank. Unparted: gold + silver = bead − blank,
 * split only by a lab's silver to gold ratio r of the lot: gold = (bead − blank)/(1 + r), silver = r × gold.
 * With the cupellation correction each metal is divided by the fraction that stayed, 1 − loss; unparted
 * with a ratio, gold = (bead − blank)/((1 − goldLoss) + r(1 − silverLoss)). The blank comes from a blank
 * cupellation and so has lost its own share already. Metal that is less than nothing is not reported.
 */
export function workBead(smelt: TestSmelt, blank: Traced | null): BeadMetal & { findings: Finding[] } {
  const findings = beadFindings(smelt);
  if (findings.some((finding) => finding.code !== 'bead-missing' && finding.level === 'blocker')) {
    return { ...none, findings };
  }
  const { beadMg, partedGoldMg, beadBalance: balance, cupellationCorrection } = smelt;
  const blankMg = blank ?? constant(0);
  const stayedGold = stayed(sources.goldLoss, cupellationCorrection?.goldLossFrac);
  const stayedSilver = stayed(sources.silverLoss, cupellationCorrection?.silverLossFrac);
  const parted =
    partedGoldMg === null ? null : traced(sources.partedGold, weighedMg({ massMg: partedGoldMg, balance }));
  const goldMg = parted && over(parted, stayedGold);
  if (parted && goldMg && cupellationCorrection) findings.push(correctionFinding(smelt));
  if (beadMg === null) return { ...none, goldMg, findings };

  const bead = traced(sources.bead, weighedMg({ massMg: beadMg, balance }));
  const net = minus(bead, blankMg);
  if (net.value <= 0 && blankMg.value > 0) {
    findings.push({
      code: 'blank-larger-than-bead',
      level: 'blocker',
      path: '/blankMgPerGLead',
      sentence: `The lead alone would give ${figure(blankMg.value)} mg of silver, and the bead is ${figure(beadMg)} mg: no silver of the sample is left. Check the blank, or use lead with less silver.`,
    });
    return { ...none, goldMg, findings };
  }
  if (parted && goldMg) {
    findings.push(...partingFindings(smelt, beadMg, parted.value));
    const silver = over(minus(net, parted), stayedSilver);
    if (silver.value >= 0) {
      return { goldMg, silverMg: silver, goldPlusSilverMg: plus(goldMg, silver), findings };
    }
    const { value, u } = measuredFrom(silver);
    findings.push({
      code: 'silver-less-than-nothing',
      level: 'warning',
      path: '/beadMg',
      sentence: `Bead less gold less blank leaves ${figure(value)} ± ${figure(2 * u)} mg of silver; less than nothing cannot be, so no silver grade is given.`,
    });
    return { goldMg, silverMg: null, goldPlusSilverMg: null, findings };
  }
  const ratio =
    smelt.silverToGoldRatioFromAssay && traced(sources.labRatio, smelt.silverToGoldRatioFromAssay);
  if (ratio) {
    const gold = over(net, plus(stayedGold, times(ratio, stayedSilver)));
    const silver = times(ratio, gold);
    findings.push({
      code: 'split-by-lab-ratio',
      level: 'warning',
      path: '/silverToGoldRatioFromAssay',
      sentence: `The bead was not parted; gold and silver are split by the lab's ratio of ${figure(ratio.value)} parts of silver to 1 of gold, as if both had been recovered alike.`,
    });
    if (cupellationCorrection) findings.push(correctionFinding(smelt));
    return { goldMg: gold, silverMg: silver, goldPlusSilverMg: plus(gold, silver), findings };
  }
  findings.push({
    code: 'gold-not-parted',
    level: 'note',
    path: '/partedGoldMg',
    sentence:
      'No parted gold is recorded, so only gold and silver together could be worked out; a split needs parting or a lab assay of the lot.',
  });
  if (cupellationCorrection) {
    findings.push({
      code: 'correction-needs-split',
      level: 'warning',
      path: '/cupellationCorrection',
      sentence:
        'The cupellation correction differs for gold and silver, and this bead was not parted, so it is not corrected.',
    });
  }
  return { ...none, goldPlusSilverMg: net, findings };
}

/** Fraction of a metal that stays in the bead. */
function stayed(
  source: typeof sources.goldLoss | typeof sources.silverLoss,
  loss: { value: number; u: number } | undefined,
): Traced {
  return loss ? minus(constant(1), traced(source, loss)) : constant(1);
}

function correctionFinding(smelt: TestSmelt): Finding {
  const gold = smelt.cupellationCorrection?.goldLossFrac.value ?? 0;
  const silver = smelt.cupellationCorrection?.silverLossFrac.value ?? 0;
  return {
    code: 'cupellation-corrected',
    level: 'note',
    path: '/cupellationCorrection',
    sentence: `Corrected for cupelling: ${percentFigure(gold)} of the gold and ${percentFigure(silver)} of the silver taken as lost in cupel and muffle.`,
  };
}
