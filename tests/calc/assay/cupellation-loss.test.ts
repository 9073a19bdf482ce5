import { describe, expect, it } from 'vitest';
import {
  cupellationLossFromProofs,
  usualCupellationLosses,
} from '../../../api/calc/assay/cupellation-loss.ts';

const balance = { name: 'bead balance', readabilityG: 0.0001, repeatabilityG: 0 };

describe('cupellation loss from proofs', () => {
  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904, introduction: 0.5 g of silver cupelled with 20 g of
  // lead gave 0.495 g, a loss of 1 %; 0.1 g gave 0.098 g, a loss of 2 %.
  it('works Beringer’s two proofs', () => {
    const large = cupellationLossFromProofs({ proofs: [{ takenMg: 500, foundMg: 495 }], balance });
    expect(large.lossFrac?.value).toBeCloseTo(0.01, 12);
    const small = cupellationLossFromProofs({ proofs: [{ takenMg: 100, foundMg: 98 }], balance });
    expect(small.lossFrac?.value).toBeCloseTo(0.02, 12);
    expect(small.findings.map(({ code }) => code)).toEqual(['one-proof-only']);
  });

  it('averages proofs, with the error of their mean', () => {
    const { lossFrac, findings } = cupellationLossFromProofs({
      proofs: [
        { takenMg: 100, foundMg: 98 },
        { takenMg: 100, foundMg: 97 },
        { takenMg: 100, foundMg: 99 },
      ],
      balance,
    });
    expect(lossFrac?.value).toBeCloseTo(0.02, 12);
    expect(lossFrac?.u).toBeCloseTo(0.01 / Math.sqrt(3), 12);
    expect(findings).toEqual([]);
  });

  it('does not take alike proofs for better scales', () => {
    const proof = { takenMg: 10, foundMg: 9.8 };
    const { lossFrac } = cupellationLossFromProofs({ proofs: [proof, proof], balance });
    const uMg = 0.1 / Math.sqrt(6);
    expect(lossFrac?.u).toBeCloseTo(Math.hypot(uMg / 10, (uMg * 9.8) / 100) / Math.SQRT2, 12);
  });

  it('draws nothing from proofs that gained, or from none', () => {
    const gained = cupellationLossFromProofs({ proofs: [{ takenMg: 10, foundMg: 10.5 }], balance });
    expect(gained.lossFrac).toBeNull();
    expect(gained.findings.map(({ code }) => code)).toEqual(['proofs-gained-mass']);
    const none = cupellationLossFromProofs({ proofs: [{ takenMg: 0, foundMg: 1 }], balance });
    expect(none.lossFrac).toBeNull();
    expect(none.findings.map(({ code, level }) => [code, level])).toEqual([['proof-left-out', 'blocker']]);
  });

  it('has usual losses inside the ranges of common practice', () => {
    const { silverLossFrac, goldLossFrac } = usualCupellationLosses;
    expect(silverLossFrac.value - Math.sqrt(3) * silverLossFrac.u).toBeCloseTo(0.01, 12);
    expect(goldLossFrac.value + Math.sqrt(3) * goldLossFrac.u).toBeCloseTo(0.005, 12);
  });
});
