import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { splitForecast, type BatchValue } from '../../../api/calc/books/split-forecast.ts';
import { sumOf } from '../../../api/calc/money.ts';

const batch = (
  dryMassKg: number,
  gradeGpt: number,
  recoveryFrac: number,
  valuePerG: number,
  cost: number,
): BatchValue => ({
  dryMassKg,
  metals: [{ metal: 'Au', gradeGpt, recoveryFrac, valuePerG }],
  otherValue: 0,
  cost,
});

describe('why a batch brought more or less than its forecast', () => {
  it('gives the effects that successive substitution gives by hand', () => {
    // 200 kg × 100 g/t = 20 g × 0.9 × 60 = 1080 − 300 = 780. Then mass 220: 1188; grade 90: 1069.20;
    // recovery 0.8: 950.40; price 65: 1029.60; cost 350.
    const split = splitForecast({
      forecast: batch(200, 100, 0.9, 60, 300),
      actual: batch(220, 90, 0.8, 65, 350),
    });
    expect(split).toEqual({
      massEffect: '108.00',
      gradeEffect: '-118.80',
      recoveryEffect: '-118.80',
      priceEffect: '79.20',
      costEffect: '-50.00',
      otherEffect: '0.00',
      total: '-100.40',
    });
  });

  it('gives the price and efficiency variances of a textbook exercise', () => {
    // Direct material, standard 2 lb at 4.00 for each of 2,000 pieces; used 4,500 lb bought at 3.80: quantity variance
    // 2,000 unfavourable at the standard price, price variance 900 favourable (form of exercise found in every text
    // of management accounting; from memory).
    const split = splitForecast({
      forecast: batch(4000, 1000, 1, -4, 0),
      actual: batch(4500, 1000, 1, -3.8, 0),
    });
    expect(split.massEffect).toBe('-2000.00');
    expect(split.priceEffect).toBe('900.00');
  });

  it('adds up to the cent, whatever came', () => {
    const value = fc.record({
      dryMassKg: fc.double({ min: 0, max: 5000, noNaN: true }),
      metals: fc.tuple(
        ...(['Au', 'Ag'] as const).map((metal) =>
          fc.record({
            metal: fc.constant(metal),
            gradeGpt: fc.double({ min: 0, max: 3000, noNaN: true }),
            recoveryFrac: fc.double({ min: 0, max: 1, noNaN: true }),
            valuePerG: fc.double({ min: 0, max: 200, noNaN: true }),
          }),
        ),
      ),
      otherValue: fc.double({ min: -5000, max: 5000, noNaN: true }),
      cost: fc.double({ min: 0, max: 10_000, noNaN: true }),
    });
    fc.assert(
      fc.property(value, value, (forecast, actual) => {
        const { total, ...effects } = splitForecast({ forecast, actual });
        expect(sumOf(Object.values(effects)).toFixed(2)).toBe(total);
      }),
    );
  });
});
