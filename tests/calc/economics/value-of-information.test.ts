import { describe, expect, it } from 'vitest';
import { compareDraws, decide } from '../../../api/calc/economics/decide.ts';
import { drawMatte } from '../../../api/calc/economics/matte-work.ts';
import type { InHouseOption } from '../../../api/calc/economics/options.ts';
import { shareDraws } from '../../../api/calc/economics/shared-draws.ts';
import { simulate } from '../../../api/calc/economics/simulate.ts';
import type { Inquiry } from '../../../api/calc/economics/value-of-information.ts';
import {
  expectedValueOfInformation,
  valueOfInformation,
} from '../../../api/calc/economics/value-of-information.ts';
import { inferLot } from '../../../api/calc/evidence/infer-lot.ts';
import type { InferLotInput } from '../../../api/calc/evidence/lot-evidence.ts';
import { createRandom } from '../../../api/calc/random.ts';
import { meanOfDraws } from '../../../api/calc/statistics/draws.ts';
import { normalCdf, normalDensity } from '../../../api/calc/statistics/normal.ts';
import { inHouse, inventedLot, sale } from './invented-lot.ts';

const normals = (count: number, seed: number) =>
  Float64Array.from({ length: count }, createRandom(seed).normal);
/** Unit normal loss N(D) = φ(D) − D (1 − Φ(D)). */
const unitLoss = (d: number) => normalDensity(d) - d * (1 - normalCdf(d));

describe('published values', () => {
  it("give Clemen and Reilly's value of perfect information", () => {
    // R. T. Clemen, T. Reilly, *Making Hard Decisions*, ch. 12: 1000 − 580 = 420.
    const states = Float64Array.from({ length: 1000 }, (_, n) => (n % 10 < 5 ? 0 : n % 10 < 8 ? 1 : 2));
    const netValues = [
      [1500, 100, -1000],
      [1000, 200, -100],
      [500, 500, 500],
    ].map((row) => states.map((s) => row[s]!));
    expect(expectedValueOfInformation({ netValues, signals: [states] }).value).toBeCloseTo(420, 9);
  });

  it("give Render and Stair's normal value of perfect information", () => {
    // B. Render, R. M. Stair, *Quantitative Analysis for Management*, module on decision theory and the normal
    // distribution: K 6, sd 2885, D 0.69, unit normal loss 0.1453: EVPI 2515 (in these figures 6 × 2885 × 0.1453 = 2515.1).
    const [perUnit, sd, distance] = [6, 2885, 0.69];
    expect(unitLoss(distance)).toBeCloseTo(0.1453, 4);
    const z = normals(400_000, 31);
    const netValues = [z.map((x) => perUnit * sd * (x + distance)), new Float64Array(z.length)];
    const exact = perUnit * sd * unitLoss(distance);
    expect(Math.abs(compareDraws(netValues)[0]!.expectedRegret / exact - 1)).toBeLessThan(0.01);
    expect(Math.abs(expectedValueOfInformation({ netValues, signals: [z] }).value / 2515 - 1)).toBeLessThan(
      0.015,
    );
  });

  it('give the normal value of sample information', () => {
    // H. Raiffa, R. Schlaifer, *Applied Statistical Decision Theory* (1961), ch. 5: prior N(m, s²) of a difference, one
    // observation with error e: EVSI = s* × N(|m|/s*), s* = s²/√(s² + e²), the spread of the posterior mean.
    const count = 200_000;
    const truth = normals(count, 41);
    const error = normals(count, 42);
    for (const [m, s, e] of [
      [300, 1000, 700],
      [-200, 500, 1500],
      [0, 1000, 1000],
    ] as const) {
      const difference = truth.map((x) => m + s * x);
      const signal = difference.map((x, n) => x + e * error[n]!);
      const spread = (s * s) / Math.hypot(s, e);
      const exact = spread * unitLoss(Math.abs(m) / spread);
      const { value } = expectedValueOfInformation({
        netValues: [difference, new Float64Array(count)],
        signals: [signal],
      });
      // A gain of standard deviation s is counted in the share of draws that change the decision.
      const scatter = s * Math.sqrt(normalCdf(-Math.abs(m) / spread) / count);
      expect(Math.abs(value - exact)).toBeLessThan(4 * scatter);
    }
  });
});

describe('properties', () => {
  it('follows an outcome that turns twice with the signal', () => {
    // Difference 100 (z² − 1) of mean zero: knowing z gains E max(0, 100 (z² − 1)) = 200 φ(1) = 48.39.
    const z = normals(100_000, 54);
    const netValues = [z.map((x) => 100 * (x * x - 1)), new Float64Array(z.length)];
    const { value } = expectedValueOfInformation({ netValues, signals: [z] });
    expect(Math.abs(value - 200 * normalDensity(1))).toBeLessThan(1.5);
  });

  it('finds no value in noise', () => {
    const netValues = [normals(20_000, 51).map((x) => 100 + 1000 * x), new Float64Array(20_000)];
    const { value } = expectedValueOfInformation({
      netValues,
      signals: [normals(20_000, 52), normals(20_000, 53)],
    });
    expect(value).toBeLessThan(25);
  });

  const inquiries: Inquiry[] = [
    {
      kind: 'test-smelt',
      id: 'one',
      name: 'One more smelt',
      treatmentId: 'roast',
      replicates: 1,
      uGpt: { Au: 10, Ag: 5 },
      cost: 80,
    },
    {
      kind: 'test-smelt',
      id: 'nine',
      name: 'Nine more smelts',
      treatmentId: 'roast',
      replicates: 9,
      uGpt: { Au: 10, Ag: 5 },
      cost: 720,
    },
    { kind: 'lab-assay', id: 'lab', name: 'A head assay', replicates: 1, uGpt: { Au: 20, Ag: 5 }, cost: 60 },
    { kind: 'price', id: 'price', name: 'Waiting for the price', horizonDays: 20, cost: 0 },
  ];

  it('values nothing above perfect information, and more replicates above one', () => {
    const input = inventedLot({}, 20_000);
    const { perfect, inquiries: valued } = valueOfInformation(input, inquiries);
    const value = (id: string) => valued.find((inquiry) => inquiry.id === id)!.value;
    for (const inquiry of valued) {
      expect(inquiry.value).toBeGreaterThanOrEqual(0);
      expect(inquiry.value).toBeLessThan(1.02 * perfect);
      expect(inquiry.netGain).toBeCloseTo(inquiry.value - inquiry.cost, 9);
    }
    expect(value('nine')).toBeGreaterThan(value('one'));
    expect(value('one')).toBeGreaterThan(0);
    expect(perfect).toBeCloseTo(decide(input).options[0]!.expectedRegret, 3);
  });

  it('values nothing where one option always wins', () => {
    const options = [inHouse('Smelt', 'plain'), inHouse('Dear', 'plain', { wasteCostPerKg: 40 })];
    const { perfect, inquiries: valued } = valueOfInformation(inventedLot({ options }), inquiries);
    expect(perfect).toBe(0);
    for (const { value, sentence } of valued) {
      expect(value).toBe(0);
      expect(sentence).toMatch(
        /would hardly ever change the decision for this lot: worth next to nothing\.$/,
      );
    }
  });

  it('says whether an inquiry is worth its cost', () => {
    const dear = inquiries.map((inquiry) => ({ ...inquiry, cost: 1e6 }));
    const { inquiries: valued } = valueOfInformation(inventedLot(), dear);
    expect(valued.find(({ id }) => id === 'one')!.sentence).toMatch(
      /costs 1,000,000 USD: not worth it for this lot alone\.$/,
    );
  });
});

describe('against brute force', () => {
  it('agrees with inferring and deciding anew for each possible result of one more smelt', () => {
    const evidence: InferLotInput = {
      metal: {
        Au: { labs: [], smelts: [{ treatmentId: 'plain', gradeGpt: 1500, uGpt: 15, label: 'test 1' }] },
        Ag: { labs: [], smelts: [] },
      },
      treatments: [
        {
          id: 'plain',
          name: 'plain',
          recoveryPrior: { Au: { mean: 0.75, sd: 0.1 }, Ag: { mean: 0.7, sd: 0.1 } },
        },
        {
          id: 'roast',
          name: 'roast',
          recoveryPrior: { Au: { mean: 0.85, sd: 0.1 }, Ag: { mean: 0.8, sd: 0.1 } },
        },
      ],
      drawCount: 20_000,
      seed: 5,
    };
    const { draws } = inferLot(evidence);
    const options = [
      inHouse('Plain', 'plain'),
      inHouse('Roast', 'roast', { reagentCostPerKg: 9 }),
      sale('Sell'),
    ];
    const input = inventedLot({ draws, options });
    const uGpt = { Au: 15, Ag: 5 };
    const [inquiry] = valueOfInformation(input, [
      { kind: 'test-smelt', id: 'x', name: 'x', treatmentId: 'roast', replicates: 1, uGpt, cost: 0 },
    ]).inquiries;

    const random = createRandom(61);
    const before = decide(input).options[0]!.id;
    const gains = Array.from({ length: 150 }, (_, n) => {
      const sd = draws.replicateSdFrac.Au[n]!;
      const recovered = draws.gradeGpt.Au[n]! * draws.recoveryFrac.roast!.Au[n]!;
      const gradeGpt = recovered * Math.exp(sd * random.normal() - 0.5 * sd * sd) + uGpt.Au * random.normal();
      const { Au, Ag } = evidence.metal;
      const smelts = [...Au.smelts, { treatmentId: 'roast', gradeGpt, uGpt: uGpt.Au, label: 'test 2' }];
      const posterior = inferLot({ ...evidence, metal: { Au: { ...Au, smelts }, Ag }, drawCount: 2000 });
      const after = decide({ ...input, draws: posterior.draws }).options;
      return after[0]!.netValue.mean - after.find(({ id }) => id === before)!.netValue.mean;
    });
    const nested = gains.reduce((sum, gain) => sum + gain, 0) / gains.length;
    const error = Math.sqrt(gains.reduce((sum, gain) => sum + (gain - nested) ** 2, 0)) / gains.length;
    expect(nested).toBeGreaterThan(5 * error);
    expect(Math.abs(inquiry!.value - nested)).toBeLessThan(3 * error + 0.05 * nested);
  }, 120_000);
});

describe('an assay of the matte', () => {
  const lot = inventedLot({}, 20_000);
  const still = new Float64Array(20_000);
  /** No spread between samples: a result scatters by its own uncertainty alone. */
  const input = { ...lot, draws: { ...lot.draws, replicateSdFrac: { Au: still, Ag: still } } };
  const option = input.options.find((one): one is InHouseOption => one.kind === 'in-house')!;
  const matte = { option, kgPerKg: 0.6 };
  const inquiry = (uGpt: { Au: number; Ag: number }): Inquiry => ({
    kind: 'matte-assay',
    id: 'matte',
    name: 'An assay of the matte',
    treatmentId: option.treatmentId,
    replicates: 1,
    uGpt,
    cost: 60,
  });

  it('leaves the matte where nobody can win anything from it', () => {
    const lead = { ...option.lead, inKgPerKg: 200, returnFrac: 0 };
    const dear = { option: { ...option, lead }, kgPerKg: 0.2 };
    const { inquiries: valued } = valueOfInformation(
      { ...input, options: [option] },
      [inquiry({ Au: 1, Ag: 1 })],
      [dear],
    );
    expect(valued[0]!.value).toBe(0);
  });

  it('adds what the matte holds to what is recovered, and never more than is there', () => {
    const shared = shareDraws(input);
    const drawn = drawMatte(input, matte, shared);
    const { gradeGpt, recoveryFrac } = input.draws;
    for (let n = 0; n < 20_000; n += 101) {
      const lost = gradeGpt.Au[n]! * (1 - recoveryFrac[option.treatmentId]!.Au[n]!);
      expect(matte.kgPerKg * drawn.gradeGpt.Au[n]!).toBeLessThanOrEqual(lost);
      expect(drawn.gradeGpt.Au[n]!).toBeGreaterThanOrEqual(0);
    }
  });

  it('agrees with weighing every draw by each result that may come back', () => {
    // Brute force: for each of many results, the draws weighed by the normal likelihood of that result (Bayes), and the
    // option that is then best; no regression. Against the same draws deciding now.
    const options = [option];
    const uGpt = { Au: 60, Ag: 1e9 };
    const { inquiries: valued, perfect } = valueOfInformation(
      { ...input, options },
      [inquiry(uGpt)],
      [matte],
    );
    const shared = shareDraws(input);
    const [plain] = simulate({ ...input, options }, options, shared);
    const { gradeGpt, netValue } = drawMatte(input, matte, shared);
    const netValues = [plain!.netValue, netValue, still];
    const means = netValues.map(meanOfDraws);
    const now = means.indexOf(Math.max(...means));
    const random = createRandom(71);
    const results = Array.from({ length: 1500 }, (_, k) => gradeGpt.Au[13 * k]! + uGpt.Au * random.normal());
    const gains = results.map((result) => {
      const sums = netValues.map(() => 0);
      let weights = 0;
      for (let n = 0; n < netValue.length; n++) {
        const z = (result - gradeGpt.Au[n]!) / uGpt.Au;
        const weight = Math.exp(-0.5 * z * z);
        weights += weight;
        for (const [o, values] of netValues.entries()) sums[o]! += weight * values[n]!;
      }
      return (Math.max(...sums) - sums[now]!) / weights;
    });
    const nested = meanOfDraws(Float64Array.from(gains));
    const error = Math.sqrt(gains.reduce((sum, gain) => sum + (gain - nested) ** 2, 0)) / gains.length;
    expect(nested).toBeGreaterThan(5 * error);
    expect(valued[0]!.value).toBeGreaterThan(0);
    expect(valued[0]!.value).toBeLessThanOrEqual(1.02 * perfect);
    expect(Math.abs(valued[0]!.value - nested)).toBeLessThan(3 * error + 0.05 * nested);
  });
});
