import { describe, expect, it } from 'vitest';
import { inferLot } from '../../../api/calc/evidence/infer-lot.ts';
import type { InferLotInput } from '../../../api/calc/evidence/lot-evidence.ts';

const known = { median: 1e-6, sdLog: 0 };
const result = (gradeGpt: number, uGpt: number) => ({ gradeGpt, uGpt, label: `${gradeGpt}` });
const bead = (gradeGpt: number, uGpt: number) => ({ treatmentId: 'plain', ...result(gradeGpt, uGpt) });

/** A lot whose gold and recoveries are as good as known, and silver by one assay. */
function lot(parts: Partial<InferLotInput> = {}): InferLotInput {
  return {
    metal: {
      Au: { smelts: [], labs: [result(100, 0.01)] },
      Ag: { smelts: [], labs: [result(300, 20)] },
    },
    treatments: [
      {
        id: 'plain',
        name: 'Smelt as it is',
        recoveryPrior: { Au: { mean: 0.8, sd: 0.0002 }, Ag: { mean: 0.7, sd: 0.0002 } },
      },
    ],
    replicateSdPrior: { Au: known, Ag: known },
    drawCount: 200_000,
    seed: 1,
    ...parts,
  };
}
const codes = (input: InferLotInput): string[] => inferLot(input).findings.map(({ code }) => code);

describe('beads that are not parted', () => {
  it('tell the silver, where gold and recoveries are known, as the closed form says', () => {
    // Normal-linear model: the bead says (300 − 80)/0.7 ± 5/0.7 of silver, the assay 300 ± 20; posterior mean
    // Σ(x/u²)/Σ(1/u²), sd (Σ 1/u²)^−½ (A. Gelman et al., *Bayesian Data Analysis*, section 2.5).
    const { summary, effectiveDraws, draws } = inferLot(lot({ unparted: [bead(300, 5)] }));
    const [byAssay, byBead] = [1 / 20 ** 2, (0.7 / 5) ** 2];
    const sd = 1 / Math.sqrt(byAssay + byBead);
    const mean = (300 * byAssay + (220 / 0.7) * byBead) * sd ** 2;
    expect(Math.abs(summary.Ag.gradeGpt!.mean - mean)).toBeLessThan(0.03 * sd);
    expect(Math.abs(summary.Ag.gradeGpt!.sd / sd - 1)).toBeLessThan(0.02);
    expect(summary.Au.gradeGpt!.mean).toBeCloseTo(100, 1);
    expect(effectiveDraws).toBeLessThan(draws.drawCount);
    expect(effectiveDraws).toBeGreaterThan(draws.drawCount / 10);
  });

  it('count as tests of their treatment, and the page is told how', () => {
    const input = lot({ unparted: [bead(300, 5), bead(295, 5)], drawCount: 5000 });
    expect(inferLot(input).summary.Au.recoveries[0]?.testCount).toBe(2);
    expect(codes(input)).toContain('unparted-counted');
    expect(codes(input)).not.toContain('treatment-untested');
  });

  it('are left out where they contradict the rest, and where nothing says which share is gold', () => {
    const contradicts = lot({ unparted: [bead(700, 2)], drawCount: 5000 });
    expect(codes(contradicts)).toContain('unparted-contradicts');
    expect(inferLot(contradicts).draws).toEqual(inferLot(lot({ drawCount: 5000 })).draws);
    const { Au } = lot().metal;
    const goldOnly = lot({ metal: { Au, Ag: { smelts: [], labs: [] } }, unparted: [bead(300, 5)] });
    expect(codes({ ...goldOnly, drawCount: 500 })).toContain('unparted-not-used');
    const unknown = lot({ unparted: [{ ...bead(300, 5), treatmentId: 'leach' }], drawCount: 500 });
    expect(inferLot(unknown).findings).toContainEqual(
      expect.objectContaining({ code: 'treatment-unknown', path: '/unparted/0/treatmentId' }),
    );
  });

  it('leave the draws alone where there are none', () => {
    const { effectiveDraws, draws } = inferLot(lot({ drawCount: 500 }));
    expect(effectiveDraws).toBe(draws.drawCount);
  });
});
