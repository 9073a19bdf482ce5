import { describe, expect, it } from 'vitest';
import { drawPriceFactors } from '../../../api/calc/economics/price-draws.ts';

const prices = {
  Au: { spot: 2000, annualVolatilityFrac: 0.6 },
  Ag: { spot: 25, annualVolatilityFrac: 0.4 },
  goldSilverCorrelation: 0.6,
};
const count = 40_000;
const logs = (values: Float64Array) => Array.from(values, Math.log);
function covariance(a: number[], b: number[]) {
  const mean = (values: number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;
  const [meanA, meanB] = [mean(a), mean(b)];
  return a.reduce((sum, x, i) => sum + (x - meanA) * (b[i]! - meanB), 0) / a.length;
}

describe('price draws', () => {
  it.each([1, 30, 90, 256, 300])(
    'are lognormal with the volatility of %d days, around the price of today',
    (days) => {
      const drawn = drawPriceFactors(prices, days, count, 4);
      const variance = covariance(logs(drawn.Au), logs(drawn.Au));
      // Geometric Brownian motion: Var ln P = σ² t, E P = today's. Relative standard error of a variance: √(2/n).
      expect(Math.abs(variance / (0.36 * (days / 365)) - 1)).toBeLessThan(4 * Math.sqrt(2 / count));
      const mean = drawn.Au.reduce((sum, p) => sum + p, 0) / count;
      expect(Math.abs(mean - 1)).toBeLessThan((4 * 0.6 * Math.sqrt(days / 365)) / Math.sqrt(count));
    },
  );

  it('belong to one path: covariance at two days is that of the earlier', () => {
    for (const [early, late] of [
      [20, 75],
      [64, 65],
      [100, 300],
    ] as const) {
      const a = logs(drawPriceFactors(prices, early, count, 4).Au);
      const b = logs(drawPriceFactors(prices, late, count, 4).Au);
      expect(covariance(a, b) / (0.36 * (early / 365))).toBeCloseTo(1, 1);
    }
  });

  it('correlate gold with silver', () => {
    const { Au, Ag } = drawPriceFactors(prices, 45, count, 4);
    const [a, b] = [logs(Au), logs(Ag)];
    expect(covariance(a, b) / Math.sqrt(covariance(a, a) * covariance(b, b))).toBeCloseTo(0.6, 1);
  });

  it('are the price of today at once, or without volatility', () => {
    expect(drawPriceFactors(prices, 0, 3, 4).Au).toEqual(Float64Array.of(1, 1, 1));
    const still = { Au: { spot: 2000, annualVolatilityFrac: 0 }, Ag: { spot: 25, annualVolatilityFrac: 0 } };
    expect(drawPriceFactors(still, 90, 3, 4).Ag).toEqual(Float64Array.of(1, 1, 1));
  });
});
