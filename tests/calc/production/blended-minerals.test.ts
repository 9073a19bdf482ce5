import { describe, expect, it } from 'vitest';
import { blendedMinerals } from '../../../api/calc/production/blended-minerals.ts';

describe('minerals of a blend', () => {
  it('are weighed by mass', () => {
    // By hand: pyrite (60 × 0.6 + 20 × 0.2) ÷ 80 = 0.5, galena 20 × 0.5 ÷ 80 = 0.125.
    expect(
      blendedMinerals([
        { dryMassKg: '60', minerals: [{ mineral: 'pyrite', massFrac: '0.6' }] },
        {
          dryMassKg: '20',
          minerals: [
            { mineral: 'galena', massFrac: '0.5' },
            { mineral: 'pyrite', massFrac: '0.2' },
          ],
        },
      ]),
    ).toEqual([
      { mineral: 'galena', massFrac: '0.125' },
      { mineral: 'pyrite', massFrac: '0.5' },
    ]);
  });

  it('never come to more than the whole, and are not said where one part is not known', () => {
    const whole = ['0.333333', '0.333333', '0.333334'].map((massFrac, at) => ({
      mineral: (['pyrite', 'quartz', 'galena'] as const)[at] ?? 'pyrite',
      massFrac,
    }));
    const blend = blendedMinerals([
      { dryMassKg: '7', minerals: whole },
      { dryMassKg: '3', minerals: [{ mineral: 'quartz', massFrac: '1' }] },
    ]);
    expect(blend.reduce((sum, one) => sum + Number(one.massFrac), 0)).toBeLessThanOrEqual(1);
    expect(
      blendedMinerals([
        { dryMassKg: '7', minerals: whole },
        { dryMassKg: '3', minerals: [] },
      ]),
    ).toEqual([]);
    expect(blendedMinerals([])).toEqual([]);
  });
});
