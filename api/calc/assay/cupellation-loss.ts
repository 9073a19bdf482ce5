import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { mean, standardDeviation } from '../statistics/sample.ts';
import { figure, percentFigure } from './figures.ts';
import { weighingUncertaintyG } from './weighing.ts';
import type { Balance } from './weighing.ts';

/**
 * Cupellation losses to begin with, until proofs are run: silver 1 to 3 %, gold 0.1 to 0.5 %, each taken as
 * rectangular (half-width/√3). Common practice; the smaller the bead and the hotter the muffle, the more.
 */
export const usualCupellationLosses: { silverLossFrac: Measured; goldLossFrac: Measured } = {
  silverLossFrac: { value: 0.02, u: 0.01 / Math.sqrt(3) },
  goldLossFrac: { value: 0.003, u: 0.002 / Math.sqrt(3) },
};

/**
 * Loss in cupelling from proofs (pure metal of known mass cupelled beside the assays): loss = 1 − found/taken,
 * averaged. u is that of the mean, from the scatter of the proofs or their weighing, whichever is larger; how one
 * cupellation differs from the next shows in the replicates and is not counted twice. One proof shows no scatter:
 * half its loss is taken as u, and said. Null without a usable proof, or where the proofs gained mass.
 */
export function cupellationLossFromProofs({
  proofs,
  balance,
}: {
  proofs: readonly { takenMg: number; foundMg: number }[];
  balance: Balance;
}): { lossFrac: Measured | null; findings: Finding[] } {
  const usable = proofs.filter(({ takenMg, foundMg }) => takenMg > 0 && foundMg >= 0);
  const findings: Finding[] = [];
  if (usable.length < proofs.length || usable.length === 0) {
    findings.push({
      code: 'proof-left-out',
      level: usable.length === 0 ? 'blocker' : 'warning',
      path: '/proofs',
      sentence: `${usable.length} of ${proofs.length} proofs have a mass taken above zero and a mass found; the others are left out.`,
    });
  }
  if (usable.length === 0) return { lossFrac: null, findings };

  const losses = usable.map(({ takenMg, foundMg }) => 1 - foundMg / takenMg);
  const uMg = 1000 * weighingUncertaintyG(balance);
  const weighing =
    Math.hypot(
      ...usable.map(({ takenMg, foundMg }) => Math.hypot(uMg / takenMg, (uMg * foundMg) / takenMg ** 2)),
    ) / Math.sqrt(usable.length);
  const value = mean(losses);
  if (value < 0) {
    findings.push({
      code: 'proofs-gained-mass',
      level: 'blocker',
      path: '/proofs',
      sentence: `The proofs gained ${percentFigure(-value)}; lead left in the bead or a wrong mass, so no correction is drawn from them.`,
    });
    return { lossFrac: null, findings };
  }
  if (usable.length === 1) {
    findings.push({
      code: 'one-proof-only',
      level: 'note',
      path: '/proofs',
      sentence: `One proof shows no scatter; half of its loss of ${percentFigure(value)} is taken as uncertainty. Three or more would tell (here ${figure(usable.length)}).`,
    });
    return { lossFrac: { value, u: Math.hypot(weighing, value / 2) }, findings };
  }
  const u = Math.max(standardDeviation(losses), weighing) / Math.sqrt(usable.length);
  return { lossFrac: { value, u }, findings };
}
