import { describe, expect, it } from 'vitest';
import type { Ladder, MarginalLadder } from '../../../api/calc/terms/charge-terms.ts';
import { ladderRate } from '../../../api/calc/terms/ladder.ts';

const rate = (ladder: Ladder, level: string) => ladderRate(ladder, level).rate.toFixed();

const counted = (counting: MarginalLadder['counting']): Ladder => ({
  kind: 'marginal',
  counting,
  bands: [{ from: '0.2', step: '0.1', rate: '2' }],
});

describe('ladders', () => {
  it('counts in proportion, by whole and by started steps', () => {
    // Class exercise "valorización": arsenic 0.4 %, free 0.2, 2 USD per 0.1 %: 4 USD.
    expect(rate(counted('pro-rata'), '0.4')).toBe('4');
    expect(rate(counted('whole-steps'), '0.4')).toBe('4');
    expect(rate(counted('started-steps'), '0.4')).toBe('4');
    // Between the steps the three readings differ.
    expect(rate(counted('pro-rata'), '0.45')).toBe('5');
    expect(rate(counted('whole-steps'), '0.45')).toBe('4');
    expect(rate(counted('started-steps'), '0.45')).toBe('6');
  });

  it('charges nothing up to the free level', () => {
    for (const level of ['0', '0.1999', '0.2']) expect(rate(counted('started-steps'), level)).toBe('0');
  });

  it('passes from band to band', () => {
    // "Condición general de valorización", June 2007: As + Sb 6.5 %, free 3, 1.5 to 4.5, 2 above: 6.25.
    const ladder: Ladder = {
      kind: 'marginal',
      counting: 'pro-rata',
      bands: [
        { from: '3', step: '1', rate: '1.5' },
        { from: '4.5', step: '1', rate: '2' },
      ],
    };
    expect(rate(ladder, '6.5')).toBe('6.25');
    expect(rate(ladder, '4.5')).toBe('2.25');
    expect(ladderRate(ladder, '6.5').expression).toBe('(4.5 − 3) ÷ 1 × 1.5 + (6.5 − 4.5) ÷ 1 × 2');
  });

  it('counts a shortfall downwards', () => {
    const ladder: Ladder = {
      kind: 'shortfall',
      counting: 'whole-steps',
      bands: [
        { from: '80', step: '1', rate: '0.5' },
        { from: '70', step: '1', rate: '1' },
      ],
    };
    expect(rate(ladder, '80')).toBe('0');
    expect(rate(ladder, '78.5')).toBe('0.5');
    expect(rate(ladder, '70')).toBe('5');
    expect(rate(ladder, '68')).toBe('7');
  });

  it('takes one bracket for the whole, with or without its level', () => {
    const ladder: Ladder = {
      kind: 'bracket',
      brackets: [
        { from: '0', reachedAt: 'level', rate: '8' },
        { from: '50', reachedAt: 'level', rate: '10' },
        { from: '65', reachedAt: 'above', rate: '12' },
      ],
    };
    expect(['0', '49.99', '50', '65', '65.01'].map((level) => rate(ladder, level))).toEqual([
      '8',
      '8',
      '10',
      '10',
      '12',
    ]);
  });
});
