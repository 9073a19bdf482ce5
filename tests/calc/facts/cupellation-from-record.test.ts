import { describe, expect, it } from 'vitest';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { cupellationCorrection } from '../../../api/calc/facts/cupellation-from-record.ts';
import type { CupellationFacts } from '../../../api/calc/facts/records.ts';
import { smeltFromRecord } from '../../../api/calc/facts/smelt-from-record.ts';
import { facts, noCorrection, record } from './bench-facts.ts';

const proof = (metal: 'Au' | 'Ag', takenMg: number, foundMg: number) => ({
  id: `${metal} ${takenMg} ${foundMg}`,
  metal,
  provedOn: '2026-06-18',
  takenMg,
  foundMg,
  balanceId: 'bead',
});
const correct = (parts: Partial<CupellationFacts>) =>
  cupellationCorrection({ ...noCorrection, ...parts }, facts.balances);

describe('the mill’s correction for losses in cupelling', () => {
  it('is none by default', () => {
    expect(correct({})).toEqual({ correction: null, findings: [] });
  });

  it('is what is stated', () => {
    expect(correct({ correction: 'stated' })).toEqual({
      correction: { goldLossFrac: { value: 0.003, u: 0.001 }, silverLossFrac: { value: 0.02, u: 0.005 } },
      findings: [],
    });
  });

  it('is what the proofs show, the stated loss standing in for a metal without', () => {
    const proofs = [proof('Ag', 200, 195), proof('Ag', 200, 197)];
    const { correction, findings } = correct({ correction: 'proofs', proofs });
    // Losses of 2.5 and 1.5 %: mean 2 %, standard deviation 0.7071 % over √2.
    expect(correction?.silverLossFrac.value).toBeCloseTo(0.02, 12);
    expect(correction?.silverLossFrac.u).toBeCloseTo(0.005, 9);
    expect(correction?.goldLossFrac).toEqual({ value: 0.003, u: 0.001 });
    expect(findings.map(({ code }) => code)).toEqual(['cupellation-proof-missing']);
  });

  it('draws nothing from proofs that gained mass, and says so', () => {
    const { correction, findings } = correct({
      correction: 'proofs',
      proofs: [proof('Ag', 200, 203), proof('Au', 50, 49.9)],
    });
    expect(correction?.silverLossFrac.value).toBe(0.02);
    expect(findings.map(({ code }) => code)).toEqual(['proofs-gained-mass', 'cupellation-proof-missing']);
  });

  it('is shown on every test that it is used for', () => {
    const { smelt } = smeltFromRecord(record, {
      ...facts,
      cupellation: { ...noCorrection, correction: 'stated' },
    });
    const plain = workTestSmelt(smeltFromRecord(record, facts).smelt);
    const corrected = workTestSmelt(smelt);
    // Gold 75 mg of 100 g, over 1 − 0.003.
    expect(corrected.goldGpt?.value).toBeCloseTo(750 / 0.997, 9);
    expect(corrected.silverGpt?.value).toBeCloseTo((plain.silverGpt?.value ?? NaN) / 0.98, 9);
    expect(corrected.findings.map(({ code }) => code)).toContain('cupellation-corrected');
    expect(plain.findings.map(({ code }) => code)).not.toContain('cupellation-corrected');
  });
});
