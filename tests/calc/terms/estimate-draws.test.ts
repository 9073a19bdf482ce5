import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { refinerTerms, smelterTerms, traderTerms } from '../../../api/demo/invented-terms.ts';
import { compileEstimate } from '../../../api/calc/terms/estimate.ts';
import type { Column, ParcelDraws } from '../../../api/calc/terms/draw-columns.ts';
import { estimateRoom, parcelOfDraws } from '../../../api/calc/terms/draw-columns.ts';
import { compileEstimateDraws } from '../../../api/calc/terms/estimate-draws.ts';
import { createRandom } from '../../../api/calc/random.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { concentrateInput, doreInput } from '../settlement/arbitrary-input.ts';

const COUNT = 6;

/** A figure that is the same in every draw, or differs between them; sometimes nothing at all. */
const column = (low: number, high: number): fc.Arbitrary<Column> => {
  const figure = fc.oneof(fc.double({ min: low, max: high, noNaN: true }), fc.constant(0));
  const varying = fc
    .array(figure, { minLength: COUNT, maxLength: COUNT })
    .map((values) => ({ scale: 1, values: Float64Array.from(values) }));
  const scaled = varying.chain(({ values }) =>
    fc.double({ min: 0.5, max: 2, noNaN: true }).map((scale) => ({ scale, values })),
  );
  return fc.oneof(
    figure.map((scale) => ({ scale, values: null })),
    varying,
    scaled,
  );
};

const drawsOf = (terms: Terms): fc.Arbitrary<ParcelDraws> => {
  const elements = new Set([
    ...terms.assays.map((rule) => rule.element),
    ...terms.metals.map((metal) => metal.metal),
    ...terms.penalties.flatMap((penalty) => penalty.elements),
    ...terms.credits.flatMap((credit) => (credit.kind === 'component' ? credit.elements : [])),
  ]);
  const precious = (element: string) => element === 'Au' || element === 'Ag';
  return fc.record({
    drawCount: fc.constant(COUNT),
    wetMassKg: column(1000, 40_000),
    dryMassKg: column(500, 30_000),
    assays: fc.record(
      Object.fromEntries(
        [...elements].map((one) => [one, precious(one) ? column(0, 900_000) : column(0, 0.6)]),
      ),
    ),
    prices: fc.record(Object.fromEntries(terms.metals.map(({ metal }) => [metal, column(1, 3000)]))),
  });
};

function expectSame(
  terms: Terms,
  draws: ParcelDraws,
  places = Array.from({ length: COUNT }, (_, n) => n),
): void {
  const all = compileEstimateDraws(terms)(draws);
  const one = compileEstimate(terms);
  const { parcel, at } = parcelOfDraws(draws);
  let refused = 0;
  for (const n of places) {
    at(n);
    const expected = one(parcel);
    const scale = Math.abs(expected.paymentValue) + Math.abs(expected.deductionsValue) + 1;
    const near = (found: number, wanted: number, of: number) => {
      if (Number.isFinite(wanted)) expect(Math.abs(found - wanted) / of).toBeLessThan(1e-10);
      else expect(found).toBe(wanted);
    };
    near(all.netValue[n]!, expected.netValue, scale);
    near(all.paymentValue[n]!, expected.paymentValue, Math.abs(expected.paymentValue) + 1);
    near(all.goldPayableOzt[n]!, expected.goldPayableOzt, 1 + Math.abs(expected.goldPayableOzt));
    near(all.silverPayableOzt[n]!, expected.silverPayableOzt, 1 + Math.abs(expected.silverPayableOzt));
    if (expected.refused) refused++;
  }
  if (places.length === draws.drawCount) expect(all.refusedFrac).toBe(refused / draws.drawCount);
}

describe.each([
  ['concentrate', concentrateInput],
  ['doré', doreInput],
])('the estimate of all draws of %s', (_material, anyInput) => {
  it('is that of each draw alone', () => {
    const drawn = anyInput.chain(({ terms }) => drawsOf(terms).map((draws) => ({ terms, draws })));
    fc.assert(
      fc.property(drawn, ({ terms, draws }) => expectSame(terms, draws)),
      { numRuns: 400 },
    );
  });
});

describe.each([
  ['smelter', smelterTerms],
  ['trader', traderTerms],
  ['refiner', refinerTerms],
])('the estimate of all draws under the terms of the invented %s', (_name, terms) => {
  it('is that of each draw alone', () => {
    fc.assert(
      fc.property(drawsOf(terms), (draws) => expectSame(terms, draws)),
      { numRuns: 200 },
    );
  });

  it('is that of each draw alone where there are many', () => {
    const drawCount = 5000;
    const random = createRandom(3, 'many draws');
    const many = (low: number, high: number): Column => ({
      scale: 2,
      values: Float64Array.from({ length: drawCount }, () => (low + (high - low) * random.uniform()) / 2),
    });
    const masses = terms.material === 'dore' ? many(5, 60) : { scale: 1800, values: null };
    expectSame(
      terms,
      {
        drawCount,
        wetMassKg: masses,
        dryMassKg: masses,
        assays: { Au: many(0, 900_000), Ag: many(0, 90_000), As: many(0, 0.1) },
        prices: { Au: many(1000, 3000), Ag: many(10, 40) },
      },
      Array.from({ length: drawCount }, (_, n) => n),
    );
  });

  it('fills the same room again without a trace of what was in it', () => {
    const into = estimateRoom(COUNT);
    const estimate = compileEstimateDraws(terms);
    fc.assert(
      fc.property(drawsOf(terms), drawsOf(terms), (before, after) => {
        estimate(before, into);
        expect(estimate(after, into)).toEqual(compileEstimateDraws(terms)(after));
      }),
      { numRuns: 50 },
    );
  });

  it('is not a number where a metal that is paid is not assayed', () => {
    const [draws] = fc.sample(drawsOf(terms), 1);
    const { Au: _gold, ...assays } = draws!.assays;
    const masses = { wetMassKg: { scale: 900, values: null }, dryMassKg: { scale: 800, values: null } };
    expect(compileEstimateDraws(terms)({ ...draws!, ...masses, assays }).netValue).toSatisfy(
      (values: Float64Array) => values.every(Number.isNaN),
    );
  });
});
