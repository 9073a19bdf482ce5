import { describe, expect, it } from 'vitest';
import { drivers } from '../../../api/calc/economics/drivers.ts';
import { varianceShare } from '../../../api/calc/economics/variance-share.ts';
import { createRandom } from '../../../api/calc/random.ts';
import { inHouse, inventedLot, sale } from './invented-lot.ts';

describe('share of variance', () => {
  it("gives the first-order indices of Ishigami's function", () => {
    // T. Ishigami, T. Homma (1990), a 7, b 0.1, x uniform on (−π, π): V = 13.844588; shares 0.313905, 0.442411, 0.
    const random = createRandom(8);
    const count = 100_000;
    const x = [0, 1, 2].map(() =>
      Float64Array.from({ length: count }, () => Math.PI * (2 * random.uniform() - 1)),
    );
    const y = Float64Array.from({ length: count }, (_, n) => {
      const [a, b, c] = x.map((column) => column[n]!) as [number, number, number];
      return Math.sin(a) + 7 * Math.sin(b) ** 2 + 0.1 * c ** 4 * Math.sin(a);
    });
    // The estimates scatter by about 0.004 at this number of draws.
    expect(Math.abs(varianceShare(y, x[0]!)! - 0.313905)).toBeLessThan(0.012);
    expect(Math.abs(varianceShare(y, x[1]!)! - 0.442411)).toBeLessThan(0.012);
    expect(varianceShare(y, x[2]!)).toBeLessThan(0.002);
    const mean = y.reduce((sum, value) => sum + value, 0) / count;
    expect(y.reduce((sum, value) => sum + (value - mean) ** 2, 0) / count).toBeCloseTo(13.844588, 0);
  });

  it('gives the squared weights of a sum of independent normals', () => {
    const random = createRandom(9);
    const [a, b] = [0, 1].map(() => Float64Array.from({ length: 50_000 }, random.normal)) as [
      Float64Array,
      Float64Array,
    ];
    const y = a.map((value, n) => 3 * value + 4 * b[n]!);
    expect(varianceShare(y, a)).toBeCloseTo(9 / 25, 1.9);
    expect(varianceShare(y, b)).toBeCloseTo(16 / 25, 1.9);
  });

  it('is nothing for what does not vary, and one for the outcome itself', () => {
    const values = Float64Array.from({ length: 20_000 }, createRandom(10).uniform);
    expect(varianceShare(values, new Float64Array(20_000).fill(3))).toBeNull();
    expect(varianceShare(new Float64Array(20_000).fill(3), values)).toBeNull();
    expect(varianceShare(values, values)).toBeGreaterThan(0.999);
  });
});

describe('drivers', () => {
  it('find the only thing that differs', () => {
    const options = [
      inHouse('A', 'plain'),
      inHouse('B', 'plain', { treatmentId: 'plain', reagentCostPerKg: { low: 0, mode: 5, high: 30 } }),
    ];
    const [first, ...rest] = drivers({ input: inventedLot({ options }), firstId: 'A', secondId: 'B' });
    expect(first!.id).toBe('reagentCostPerKg/plain');
    expect(first!.shareFrac).toBeGreaterThan(0.99);
    for (const { shareFrac } of rest) expect(shareFrac).toBeLessThan(0.05);
  });

  it('put the buyer of the concentrate before the silver', () => {
    const options = [sale('Sell', { buyerAssayRelativeSd: 0.2 })];
    const found = drivers({ input: inventedLot({ options }, 10_000), firstId: 'Sell' });
    expect(found[0]!.label).toBe('gold assay of the buyer of “Sell”');
    const share = (id: string) => found.find((driver) => driver.id === id)!.shareFrac;
    // ln net ≈ sum: variances 0.04 (buyer), 0.01 (grade), 0.15² × 60/365 (price); costs are next to nothing.
    const total = 0.04 + 0.01 + (0.15 ** 2 * 60) / 365;
    expect(share('buyer-assay/Sell/Au')).toBeCloseTo(0.04 / total, 1);
    expect(share('grade/Au')).toBeCloseTo(0.01 / total, 1);
    expect(share('grade/Ag')).toBeLessThan(0.02);
  });

  it('say nothing of an option that is not there', () => {
    expect(drivers({ input: inventedLot(), firstId: 'nowhere' })).toEqual([]);
  });
});
