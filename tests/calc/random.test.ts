import { mersenne } from 'pure-rand/generator/mersenne';
import { describe, expect, it } from 'vitest';
import { createRandom, triangularQuantileOf } from '../../api/calc/random.ts';
import { normalCdf } from '../../api/calc/statistics/normal.ts';

/** Kolmogorov's distance times √n; above 1.95 has probability 0.1 % (N. Smirnov, Ann. Math. Statist. 19, 1948, 279). */
function kolmogorov(draws: number[], cdf: (x: number) => number): number {
  const sorted = draws.toSorted((a, b) => a - b);
  let distance = 0;
  sorted.forEach((x, i) => {
    const p = cdf(x);
    distance = Math.max(distance, p - i / sorted.length, (i + 1) / sorted.length - p);
  });
  return distance * Math.sqrt(sorted.length);
}

const many = (draw: () => number, count = 100_000) => Array.from({ length: count }, draw);

function moments(draws: number[]) {
  const n = draws.length;
  const mean = draws.reduce((sum, x) => sum + x, 0) / n;
  const central = (power: number) => draws.reduce((sum, x) => sum + (x - mean) ** power, 0) / n;
  const variance = central(2);
  return { mean, variance, skewness: central(3) / variance ** 1.5, kurtosis: central(4) / variance ** 2 };
}

describe('the generator', () => {
  it('is the Mersenne twister of the C++ standard', () => {
    // ISO/IEC 14882 [rand.predef]: the 10000th invocation of a default-constructed mt19937 (seed 5489) gives 4123659995.
    const generator = mersenne(5489);
    let bits = 0;
    for (let i = 0; i < 10_000; i++) bits = generator.next() >>> 0;
    expect(bits).toBe(4123659995);
    const random = createRandom(5489);
    let uniform = 0;
    for (let i = 0; i < 10_000; i++) uniform = random.uniform();
    expect(uniform).toBe((4123659995 + 0.5) / 2 ** 32);
  });

  it('repeats itself for a seed and stream, and differs between seeds and between streams', () => {
    const first = (seed: number, stream?: string) => many(createRandom(seed, stream).normal, 5);
    expect(first(1, 'price')).toEqual(first(1, 'price'));
    const starts = [
      first(1),
      first(2),
      first(1, 'price'),
      first(2, 'price'),
      first(1, 'hours'),
      first(1, 'hours2'),
    ];
    expect(new Set(starts.map((values) => values[0])).size).toBe(starts.length);
  });

  it('gives streams that do not follow each other', () => {
    const a = many(createRandom(1, 'lead').normal, 20_000);
    for (const other of [createRandom(2, 'lead'), createRandom(1, 'leae'), createRandom(1, 'labour')]) {
      const b = many(other.normal, 20_000);
      const correlation = a.reduce((sum, x, i) => sum + x * b[i]!, 0) / a.length;
      expect(Math.abs(correlation) * Math.sqrt(a.length)).toBeLessThan(3.5);
    }
  });
});

describe('distributions', () => {
  it('draws uniforms on the open interval', () => {
    const draws = many(createRandom(11).uniform);
    expect(Math.min(...draws)).toBeGreaterThan(0);
    expect(Math.max(...draws)).toBeLessThan(1);
    expect(kolmogorov(draws, (x) => x)).toBeLessThan(1.95);
  });

  it('draws normals with the moments and distribution of the normal', () => {
    const draws = many(createRandom(12).normal, 400_000);
    const { mean, variance, skewness, kurtosis } = moments(draws);
    // Standard errors of the moments of a normal sample: 1/√n, √(2/n), √(6/n), √(24/n); four of each allowed.
    const root = Math.sqrt(draws.length);
    expect(Math.abs(mean)).toBeLessThan(4 / root);
    expect(Math.abs(variance - 1)).toBeLessThan((4 * Math.sqrt(2)) / root);
    expect(Math.abs(skewness)).toBeLessThan((4 * Math.sqrt(6)) / root);
    expect(Math.abs(kurtosis - 3)).toBeLessThan((4 * Math.sqrt(24)) / root);
    expect(kolmogorov(draws, normalCdf)).toBeLessThan(1.95);
  });

  it('draws the far tails of the normal as often as it should', () => {
    // The ziggurat draws beyond 3.4426 by another rule: the share there is 2 Φ(−3.4426) = 5.76e-4.
    const { normal } = createRandom(13);
    const beyond: number[] = [];
    for (let n = 0; n < 8_000_000; n++) {
      const size = Math.abs(normal());
      if (size > 3.442619855899) beyond.push(size);
    }
    const expected = 8e6 * 2 * normalCdf(-3.442619855899);
    expect(Math.abs(beyond.length - expected)).toBeLessThan(4 * Math.sqrt(expected));
    const tail = (x: number) => 1 - normalCdf(-x) / normalCdf(-3.442619855899);
    expect(kolmogorov(beyond, tail)).toBeLessThan(1.95);
  });

  it('draws lognormals around their median', () => {
    const random = createRandom(14);
    const draws = many(() => random.lognormal({ median: 8, sdLog: 0.5 }));
    expect(kolmogorov(draws, (x) => normalCdf(Math.log(x / 8) / 0.5))).toBeLessThan(1.95);
    // E exp(N(µ, σ²)) = median × exp(σ²/2) = 9.0652.
    expect(moments(draws).mean).toBeCloseTo(8 * Math.exp(0.125), 1);
  });

  it('draws triangulars with their textbook moments', () => {
    const random = createRandom(15);
    const [low, mode, high] = [2, 3, 7];
    const draws = many(() => random.triangular({ low, mode, high }));
    const cdf = (x: number) =>
      x < mode
        ? (x - low) ** 2 / ((high - low) * (mode - low))
        : 1 - (high - x) ** 2 / ((high - low) * (high - mode));
    expect(kolmogorov(draws, cdf)).toBeLessThan(1.95);
    // Mean (a + b + c)/3 and variance (a² + b² + c² − ab − ac − bc)/18.
    const { mean, variance } = moments(draws);
    expect(mean).toBeCloseTo(4, 1);
    expect(variance).toBeCloseTo((4 + 9 + 49 - 6 - 14 - 21) / 18, 1);
  });

  it('inverts the triangular distribution at its corners', () => {
    expect(triangularQuantileOf({ low: 0, mode: 1, high: 2 })(0.125)).toBeCloseTo(0.5, 14);
    expect(triangularQuantileOf({ low: 0, mode: 0, high: 2 })(0.75)).toBeCloseTo(1, 14);
    expect(triangularQuantileOf({ low: 0, mode: 2, high: 2 })(0.25)).toBeCloseTo(1, 14);
    expect(triangularQuantileOf({ low: 5, mode: 5, high: 5 })(0.3)).toBe(5);
  });
});
