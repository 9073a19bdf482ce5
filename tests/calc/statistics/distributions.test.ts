import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import {
  chiSquareCdf,
  chiSquareQuantile,
  chiSquareUpperTail,
} from '../../../api/calc/statistics/chi-square.ts';
import { fisherFCdf, fisherFQuantile, fisherFUpperTail } from '../../../api/calc/statistics/fisher-f.ts';
import { normalCdf, normalDensity, normalQuantile } from '../../../api/calc/statistics/normal.ts';
import { studentTCdf, studentTQuantile, studentTTwoSidedP } from '../../../api/calc/statistics/student-t.ts';

function expectRelative(got: number, wanted: number, tolerance: number): void {
  expect(Math.abs(got - wanted), `${got} beside ${wanted}`).toBeLessThanOrEqual(tolerance * Math.abs(wanted));
}

describe('against values computed with 40 digits by mpmath 1.3 (a general-purpose library)', () => {
  it.each([
    [-30, 4.906713927148187e-198],
    [-8, 6.220960574271784e-16],
    [-3, 0.0013498980316300946],
    [-1, 0.15865525393145705],
    [0.3, 0.6179114221889527],
    [2, 0.9772498680518208],
    [6, 0.9999999990134123],
  ])('normal probability below %s', (z, wanted) => expectRelative(normalCdf(z), wanted, 2e-14));

  it.each([
    [-2, 1, 0.14758361765043326],
    [0.7, 2.5, 0.728297528405226],
    [-4, 5, 0.005161707740415727],
    [2.5, 17.776, 0.9887776997247423],
    [-12, 30, 2.790092707599628e-13],
    [-3, 1000, 0.0013833545221190963],
    [-4, 1_000_000, 3.167351700502405e-5],
  ])('Student t below %s with %s degrees of freedom', (t, degreesOfFreedom, wanted) =>
    expectRelative(studentTCdf({ t, degreesOfFreedom }), wanted, 1e-11),
  );

  it.each([
    [0.1, 1, 0.2481703659541507, 0.7518296340458492],
    [12, 5, 0.9652122194937581, 0.03478778050624185],
    [30, 12, 0.997207570667299, 0.0027924293327009166],
    [0.001, 3, 8.40791905804616e-6, 0.9999915920809419],
    [1100, 1000, 0.9853855918737048, 0.014614408126295194],
  ])('chi-square below and above %s with %s degrees of freedom', (x, degreesOfFreedom, below, above) => {
    expectRelative(chiSquareCdf({ x, degreesOfFreedom }), below, 1e-12);
    expectRelative(chiSquareUpperTail({ x, degreesOfFreedom }), above, 1e-12);
  });

  it.each([
    [0.2, 3, 8, 0.10649010422154725, 0.8935098957784527],
    [3, 4, 20, 0.9567990016657859, 0.04320099833421409],
    [1.1, 200, 300, 0.7728736711229192, 0.2271263288770809],
  ])(
    'F below and above %s with %s and %s degrees of freedom',
    (f, numeratorDf, denominatorDf, below, above) => {
      expectRelative(fisherFCdf({ f, numeratorDf, denominatorDf }), below, 1e-12);
      expectRelative(fisherFUpperTail({ f, numeratorDf, denominatorDf }), above, 1e-12);
    },
  );
});

describe('against quantiles of scipy 1.17 (a general-purpose library)', () => {
  it.each([
    [1e-300, -37.0470962993612],
    [1e-20, -9.262340089798409],
    [0.001, -3.090232306167813],
    [0.3, -0.5244005127080409],
    [0.975, 1.959963984540054],
    [0.9999999, 5.199337582290661],
  ])('normal at %s', (probability, wanted) => expectRelative(normalQuantile(probability), wanted, 1e-14));

  it.each([
    [0.995, 16, 2.9207816224251],
    [0.6, 3.7, 0.27216446429206953],
    [1e-10, 5, -156.82559270889433],
  ])('Student t at %s with %s degrees of freedom', (probability, degreesOfFreedom, wanted) =>
    expectRelative(studentTQuantile({ probability, degreesOfFreedom }), wanted, 1e-12),
  );

  it.each([
    [0.05, 10, 3.9402991361190605],
    [0.999, 3, 16.26623619623813],
    [1e-8, 2, 2.0000000099999995e-8],
  ])('chi-square at %s with %s degrees of freedom', (probability, degreesOfFreedom, wanted) =>
    expectRelative(chiSquareQuantile({ probability, degreesOfFreedom }), wanted, 1e-12),
  );

  it.each([
    [0.95, 5, 2, 19.296409652017235],
    [0.01, 3, 9, 0.03656948087359312],
  ])('F at %s with %s and %s degrees of freedom', (probability, numeratorDf, denominatorDf, wanted) =>
    expectRelative(fisherFQuantile({ probability, numeratorDf, denominatorDf }), wanted, 1e-12),
  );
});

describe('against printed tables', () => {
  // JCGM 100:2008, Annex G, Table G.2, column 95 %.
  it.each([
    [1, 12.71],
    [2, 4.3],
    [3, 3.18],
    [4, 2.78],
    [5, 2.57],
    [10, 2.23],
  ])('t for 95 %% with %s degrees of freedom is %s', (degreesOfFreedom, printed) =>
    expect(studentTQuantile({ probability: 0.975, degreesOfFreedom })).toBeCloseTo(printed, 2),
  );

  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, upper critical values of chi-square at 0.05.
  it.each([
    [1, 3.841],
    [2, 5.991],
    [10, 18.307],
    [100, 124.342],
  ])('chi-square for 95 %% with %s degrees of freedom is %s', (degreesOfFreedom, printed) =>
    expect(chiSquareQuantile({ probability: 0.95, degreesOfFreedom })).toBeCloseTo(printed, 3),
  );

  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.3, upper critical values of F at 5 %.
  it.each([
    [1, 1, 161.448],
    [5, 10, 3.326],
    [10, 20, 2.348],
  ])('F for 95 %% with %s and %s degrees of freedom is %s', (numeratorDf, denominatorDf, printed) =>
    expect(fisherFQuantile({ probability: 0.95, numeratorDf, denominatorDf })).toBeCloseTo(printed, 3),
  );
});

describe('against jstat (a general-purpose library, good to 7 figures or so)', () => {
  const probability = fc.double({ min: 0.001, max: 0.999, noNaN: true });
  const df = fc.integer({ min: 1, max: 200 });
  it('agrees on every distribution', () => {
    fc.assert(
      fc.property(probability, df, df, (p, n, m) => {
        expect(normalQuantile(p)).toBeCloseTo(jstat.normal.inv(p, 0, 1), 6);
        const t = studentTQuantile({ probability: p, degreesOfFreedom: n });
        expect(jstat.studentt.cdf(t, n)).toBeCloseTo(p, 6);
        expect(
          jstat.chisquare.cdf(chiSquareQuantile({ probability: p, degreesOfFreedom: n }), n),
        ).toBeCloseTo(p, 6);
        const f = fisherFQuantile({ probability: p, numeratorDf: n, denominatorDf: m });
        expect(jstat.centralF.cdf(f, n, m)).toBeCloseTo(p, 6);
      }),
      { numRuns: 200 },
    );
  });
});

describe('every distribution', () => {
  it('has a quantile that undoes its probability', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true }),
        fc.double({ min: 0.5, max: 500, noNaN: true }),
        fc.double({ min: 0.5, max: 500, noNaN: true }),
        (p, n, m) => {
          expectRelative(normalCdf(normalQuantile(p)), p, 1e-12);
          const t = studentTQuantile({ probability: p, degreesOfFreedom: n });
          expectRelative(studentTCdf({ t, degreesOfFreedom: n }), p, 1e-11);
          const x = chiSquareQuantile({ probability: p, degreesOfFreedom: n });
          expectRelative(chiSquareCdf({ x, degreesOfFreedom: n }), p, 1e-11);
          const f = fisherFQuantile({ probability: p, numeratorDf: n, denominatorDf: m });
          expectRelative(fisherFCdf({ f, numeratorDf: n, denominatorDf: m }), p, 1e-11);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('answers at and beyond the ends', () => {
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(normalQuantile(1.2)).toBeNaN();
    expect(normalCdf(Number.NEGATIVE_INFINITY)).toBe(0);
    expect(normalCdf(Number.POSITIVE_INFINITY)).toBe(1);
    expect(studentTQuantile({ probability: 1, degreesOfFreedom: 3 })).toBe(Number.POSITIVE_INFINITY);
    expect(studentTQuantile({ probability: 0.5, degreesOfFreedom: 3 })).toBe(0);
    expect(studentTCdf({ t: Number.POSITIVE_INFINITY, degreesOfFreedom: 3 })).toBe(1);
    expect(studentTCdf({ t: 1.5, degreesOfFreedom: Number.POSITIVE_INFINITY })).toBe(normalCdf(1.5));
    expect(studentTQuantile({ probability: 0.9, degreesOfFreedom: Number.POSITIVE_INFINITY })).toBe(
      normalQuantile(0.9),
    );
    expect(studentTCdf({ t: 1, degreesOfFreedom: 0 })).toBeNaN();
    expect(studentTTwoSidedP({ t: 0, degreesOfFreedom: 4 })).toBe(1);
    expect(chiSquareCdf({ x: -1, degreesOfFreedom: 2 })).toBe(0);
    expect(chiSquareUpperTail({ x: Number.POSITIVE_INFINITY, degreesOfFreedom: 2 })).toBe(0);
    expect(chiSquareQuantile({ probability: 1, degreesOfFreedom: 2 })).toBe(Number.POSITIVE_INFINITY);
    expect(chiSquareQuantile({ probability: 0.5, degreesOfFreedom: -1 })).toBeNaN();
    expect(fisherFCdf({ f: -2, numeratorDf: 2, denominatorDf: 3 })).toBe(0);
    expect(fisherFUpperTail({ f: Number.POSITIVE_INFINITY, numeratorDf: 2, denominatorDf: 3 })).toBe(0);
    expect(fisherFQuantile({ probability: 0, numeratorDf: 2, denominatorDf: 3 })).toBe(0);
    expect(fisherFQuantile({ probability: 0.5, numeratorDf: 0, denominatorDf: 3 })).toBeNaN();
  });

  it('has a normal density that is the slope of its probability', () => {
    const slope = (normalCdf(0.7 + 1e-5) - normalCdf(0.7 - 1e-5)) / 2e-5;
    expect(normalDensity(0.7)).toBeCloseTo(slope, 9);
  });
});
