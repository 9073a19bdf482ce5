import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { combineLabAssays, usualAssayUncertainty } from '../../../api/calc/assay/lab-assay.ts';

const assaysOf = (pairs: [number, number | null][]) =>
  pairs.map(([value, u], i) => ({ laboratory: `laboratory ${i + 1}`, value, u }));

describe('combining lab assays', () => {
  // Thirteen trials of BCG vaccine (G. A. Colditz et al., JAMA 271, 1994), log risk ratios from the published
  // counts: a standard case for this estimator. statsmodels 0.15 combine_effects(method_re="iterated"), a
  // general-purpose library checked there against R's metafor: tau² 0.3180685, mean −0.7149682, u 0.1808922,
  // Q 152.23301. Raised by 3, because an assay is not negative.
  it('agrees with statsmodels on the BCG trials', () => {
    const counts: [number, number, number, number][] = [
      [4, 119, 11, 128],
      [6, 300, 29, 274],
      [3, 228, 11, 209],
      [62, 13536, 248, 12619],
      [33, 5036, 47, 5761],
      [180, 1361, 372, 1079],
      [8, 2537, 10, 619],
      [505, 87886, 499, 87892],
      [29, 7470, 45, 7232],
      [17, 1699, 65, 1600],
      [186, 50448, 141, 27197],
      [5, 2493, 3, 2338],
      [27, 16886, 29, 17825],
    ];
    const assays = assaysOf(
      counts.map(([t, noT, c, noC]) => [
        3 + Math.log(t / (t + noT) / (c / (c + noC))),
        Math.sqrt(1 / t - 1 / (t + noT) + 1 / c - 1 / (c + noC)),
      ]),
    );
    const { combined, betweenLabSd, agreement, method } = combineLabAssays({
      element: 'gold',
      unit: 'g/t',
      assays,
    });
    expect(method).toBe('random effects, Paule–Mandel');
    expect(betweenLabSd ** 2).toBeCloseTo(0.3180684522, 9);
    expect(combined?.value).toBeCloseTo(3 - 0.7149681534934442, 9);
    expect(combined?.u).toBeCloseTo(0.18089219153762356, 9);
    expect(agreement?.q).toBeCloseTo(152.23300808237337, 8);
  });

  // The same library on four invented laboratories: tau² 2.1440848, mean 31.1372949, u 0.7880517, p 0.00033675.
  it('agrees with statsmodels on four laboratories, and says that they disagree', () => {
    const assays = assaysOf([
      [31.2, 0.5],
      [29.8, 0.4],
      [33.5, 0.8],
      [30.4, 0.6],
    ]);
    const worked = combineLabAssays({ element: 'gold', unit: 'g/t', assays });
    expect(worked.betweenLabSd ** 2).toBeCloseTo(2.1440847871, 8);
    expect(worked.combined?.value).toBeCloseTo(31.13729489503725, 8);
    expect(worked.combined?.u).toBeCloseTo(0.788051691156764, 8);
    expect(worked.agreement?.p).toBeCloseTo(0.00033674901956413136, 12);
    expect(worked.findings.map(({ code }) => code)).toEqual(['labs-disagree']);
    // t for 95 % with 3 degrees of freedom is 3.18 (JCGM 100:2008, Table G.2).
    const halfWidth = ((worked.interval95?.high ?? 0) - (worked.interval95?.low ?? 0)) / 2;
    expect(halfWidth / (worked.combined?.u ?? 1)).toBeCloseTo(3.18, 2);
  });

  it('weights laboratories that agree by what they state', () => {
    const assays = assaysOf([
      [10, 0.2],
      [10.1, 0.1],
    ]);
    const worked = combineLabAssays({ element: 'gold', unit: 'g/t', assays });
    expect(worked.betweenLabSd).toBe(0);
    expect(worked.combined?.value).toBeCloseTo((10 / 0.04 + 10.1 / 0.01) / (1 / 0.04 + 1 / 0.01), 12);
    expect(worked.weights[1]).toBeCloseTo(0.8, 12);
    expect(worked.findings).toEqual([]);
  });

  it('passes a single assay through', () => {
    const worked = combineLabAssays({ element: 'silver', unit: 'g/t', assays: assaysOf([[812, 15]]) });
    expect(worked.method).toBe('single assay');
    expect(worked.combined?.value).toBeCloseTo(812, 12);
    expect(worked.combined?.u).toBeCloseTo(15, 12);
    expect(worked.agreement).toBeNull();
  });

  it('takes the usual spread between laboratories where none is stated, and says so', () => {
    const worked = combineLabAssays({ element: 'gold', unit: 'g/t', assays: assaysOf([[10, null]]) });
    expect(worked.combined?.u).toBeCloseTo(usualAssayUncertainty({ value: 10, unit: 'g/t' }), 12);
    expect(worked.findings.map(({ code, path }) => [code, path])).toEqual([
      ['lab-uncertainty-not-stated', '/assays/0/u'],
    ]);
  });

  it('leaves out what cannot be, and has nothing to say without assays', () => {
    const worked = combineLabAssays({
      element: 'lead',
      unit: '%',
      assays: assaysOf([
        [-1, 0.1],
        [0, null],
      ]),
    });
    expect(worked.combined).toBeNull();
    expect(worked.weights).toEqual([0, 0]);
    expect(worked.findings.map(({ code }) => code)).toEqual([
      'lab-assay-left-out',
      'lab-assay-left-out',
      'no-lab-assay',
    ]);
  });

  it('lies between the assays, with weights that add up to 1, and satisfies the estimating equation', () => {
    const assay = fc.tuple(
      fc.double({ min: 1, max: 100, noNaN: true }),
      fc.double({ min: 0.01, max: 5, noNaN: true }),
    );
    fc.assert(
      fc.property(fc.array(assay, { minLength: 2, maxLength: 6 }), (pairs) => {
        const worked = combineLabAssays({ element: 'gold', unit: 'g/t', assays: assaysOf(pairs) });
        const mean = worked.combined?.value ?? Number.NaN;
        expect(mean).toBeGreaterThanOrEqual(Math.min(...pairs.map(([value]) => value)) - 1e-9);
        expect(mean).toBeLessThanOrEqual(Math.max(...pairs.map(([value]) => value)) + 1e-9);
        expect(worked.weights.reduce((total, w) => total + w, 0)).toBeCloseTo(1, 10);
        const scatter = pairs.reduce(
          (total, [value, u]) => total + (value - mean) ** 2 / (u ** 2 + worked.betweenLabSd ** 2),
          0,
        );
        if (worked.betweenLabSd > 0) expect(scatter).toBeCloseTo(pairs.length - 1, 6);
        else expect(scatter).toBeLessThanOrEqual(pairs.length - 1 + 1e-9);
      }),
    );
  });
});

describe('the usual spread between laboratories', () => {
  // W. Horwitz, L. R. Kamps, K. W. Boyer, J. AOAC 63 (1980), 1344: relative standard deviation between
  // laboratories doubles for every hundredfold fall in content: 2 % for the pure substance, 4 % at 1 %,
  // 16 % at 1 ppm. M. Thompson (2000) bends it at the ends.
  it('is 4 % of 1 % and 16 % of 1 g/t', () => {
    expect(usualAssayUncertainty({ value: 1, unit: '%' })).toBeCloseTo(0.04, 3);
    expect(usualAssayUncertainty({ value: 1, unit: 'g/t' })).toBeCloseTo(0.16, 3);
    expect(usualAssayUncertainty({ value: 0.1, unit: 'g/t' })).toBeCloseTo(0.022, 12);
    expect(usualAssayUncertainty({ value: 64, unit: '%' })).toBeCloseTo(0.8, 12);
  });
});
