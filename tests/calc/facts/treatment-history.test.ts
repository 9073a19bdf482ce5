import { describe, expect, it } from 'vitest';
import { workLot } from '../../../api/calc/facts/lot-evidence.ts';
import type { EvidenceFacts } from '../../../api/calc/facts/records.ts';
import { recoveriesOfLot } from '../../../api/calc/facts/treatment-history.ts';
import { facts as bench, labAssay, record } from './bench-facts.ts';
import { inventedFacts } from './invented-lot.ts';

const base = inventedFacts({ balances: [...bench.balances], supplies: [] });
/** A lot with a head assay of 900 g/t of gold and three tests of one treatment that give 750. */
const tested = (code: string, labAssays = [labAssay({ value: '900', standardUncertainty: '9' })]) => ({
  ...base,
  lot: { ...base.lot, code, labAssays },
  trials: [
    {
      id: 'trial',
      name: 'Raw',
      treatmentId: 'raw',
      smelts: ['1', '2', '3'].map((sample) => ({ ...record, id: sample, sample, reagents: [] })),
    },
  ],
});
const untested = (history: EvidenceFacts['history']): EvidenceFacts => ({ ...base, trials: [], history });
const goldOf = (facts: EvidenceFacts, treatmentId: string) =>
  workLot(facts, { drawCount: 4000, seed: 2 }).inference.summary.Au.recoveries.find(
    (one) => one.treatmentId === treatmentId,
  );

describe('recoveries of a treatment on other lots', () => {
  it('are what a lot’s own tests say, of the treatments tried on it alone', () => {
    const history = recoveriesOfLot(tested('L-X'));
    expect(history.map(({ treatmentId, lotCode, Ag }) => [treatmentId, lotCode, Ag])).toEqual([
      ['raw', 'L-X', null],
    ]);
    // 750 of 900 g/t: logit of 0.833 is 1.61; the spread of samples (8 % by common experience) widens it.
    expect(history[0]?.Au?.logitMean).toBeGreaterThan(1);
    expect(history[0]?.Au?.logitMean).toBeLessThan(2.3);
  });

  it('are nothing without a head assay: only the best test is a bound then', () => {
    const history = recoveriesOfLot(tested('L-X', []));
    expect(history.every(({ Au }) => Au === null || Au.logitSd > 0.5)).toBe(true);
  });

  it('move what is expected on this lot, and it is said on how many lots that rests', () => {
    const history = ['L-X', 'L-Y', 'L-Z'].map((lotCode) => ({
      treatmentId: 'raw',
      lotCode,
      Au: { logitMean: 0.4, logitSd: 0.2 },
      Ag: null,
    }));
    const [before, after] = [goldOf(untested([]), 'raw'), goldOf(untested(history), 'raw')];
    expect(before?.prior.mean).toBeCloseTo(0.8, 9);
    expect(after?.prior.mean).toBeLessThan(0.75);
    expect(after?.posterior.mean).toBeLessThan(0.75);
    expect(goldOf(untested(history), 'roast')?.prior.mean).toBeCloseTo(0.96, 9);
    const { findings } = workLot(untested(history), { drawCount: 500, seed: 1 }).inference;
    const said = findings.filter(({ code }) => code === 'recovery-from-history');
    expect(said).toHaveLength(1);
    expect(said[0]?.sentence).toMatch(
      /3 other lots \(L-X, L-Y, L-Z\).*gold .* \(stated: 80\.0 ± 10\.0 %\)\.$/,
    );
    expect(said[0]?.sentence).not.toContain('silver');
  });

  it('are worked without the lot’s own history, so that no lot is counted twice', () => {
    const alone = recoveriesOfLot(tested('L-X'));
    const told = recoveriesOfLot({
      ...tested('L-X'),
      history: [{ treatmentId: 'raw', lotCode: 'L-Y', Au: { logitMean: 0, logitSd: 0.1 }, Ag: null }],
    } as Omit<EvidenceFacts, 'history'>);
    expect(told).toEqual(alone);
  });
});
