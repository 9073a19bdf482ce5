import type { Measured } from '../measured.ts';
import { chiSquareUpperTail } from '../statistics/chi-square.ts';
import { grubbsTest } from '../statistics/grubbs.ts';
import { mean, standardDeviation } from '../statistics/sample.ts';
import type { TestSmeltResult } from './test-smelt.ts';
import type { BudgetShare } from './uncertainty-budget.ts';

export type AssayedMetal = BudgetShare['target'];

/** How each metal is called in a sentence. */
export const metalNames: Record<AssayedMetal, string> = {
  gold: 'gold',
  silver: 'silver',
  goldPlusSilver: 'gold and silver together',
};

/** One metal over the replicates of a trial, g/t. */
export interface TrialMetal {
  /** Tests that gave this metal. */
  n: number;
  /** Mean and its standard uncertainty, everything counted: see `workTrial`. */
  meanGpt: Measured;
  /** Standard deviation of the replicates; null with one test, which says nothing about spread. */
  standardDeviationGpt: number | null;
  /** Standard deviation over √n. */
  standardErrorGpt: number | null;
  relativeSd: number | null;
  /** Standard uncertainty of one test from weighing alone (root mean square over the tests). */
  uWeighingGpt: number;
  /** The same from weighing and sampling: what should make replicates differ. */
  uWeighingAndSamplingGpt: number;
  /** What all replicates share (blank, corrections), which no replicate averages down. */
  uSharedGpt: number;
  /** Chi-square test of the spread against weighing and sampling; null where there is nothing to test. */
  spreadTest: { chiSquare: number; degreesOfFreedom: number; p: number } | null;
  /** The test furthest off, by Grubbs; null with fewer than three. `index` is its place in the trial. */
  furthestOff: { index: number; g: number; p: number } | null;
}

export type TrialResult = Record<AssayedMetal, TrialMetal | null>;

/**
 * Works the replicates of one trial (same lot, same treatment) up to a mean per metal.
 *
 * The uncertainty of the mean is u² = max(s/√n, u₁/√n)² + u_shared²: s is the standard deviation of the
 * replicates (JCGM 100:2008, 4.2.3), u₁ what weighing and sampling make of one test. The larger counts,
 * because a few replicates can agree by luck, and never better than the scales allow. With one test it is u₁
 * and the shared part alone, which leaves out whatever makes smelts differ. Spread is tested with
 * chi-square = Σ((x − x̄)/u₁)², x̄ weighted by 1/u₁² (R. T. Birge, Phys. Rev. 40, 1932, 207). An outlier is
 * pointed at, never dropped (`replicateFindings`).
 */
export function workTrial(results: readonly TestSmeltResult[]): TrialResult {
  return {
    gold: workMetal(results, 'gold'),
    silver: workMetal(results, 'silver'),
    goldPlusSilver: workMetal(results, 'goldPlusSilver'),
  };
}

function workMetal(results: readonly TestSmeltResult[], metal: AssayedMetal): TrialMetal | null {
  const tests = results.flatMap((result, index) => {
    const grade = result[`${metal}Gpt`];
    return grade === null ? [] : [{ index, value: grade.value, ...uncertaintyByKind(result, metal) }];
  });
  if (tests.length === 0) return null;
  const n = tests.length;
  const values = tests.map((test) => test.value);
  const centre = mean(values);
  const spread = n > 1 ? standardDeviation(values) : null;
  const uWeighingAndSamplingGpt = rootMeanSquare(tests.map((test) => test.uOwn));
  const uSharedGpt = mean(tests.map((test) => test.uShared));
  const uOwn = Math.max(spread ?? 0, uWeighingAndSamplingGpt) / Math.sqrt(n);
  const grubbs = grubbsTest(values);
  return {
    n,
    meanGpt: { value: centre, u: Math.hypot(uOwn, uSharedGpt) },
    standardDeviationGpt: spread,
    standardErrorGpt: spread === null ? null : spread / Math.sqrt(n),
    relativeSd: spread === null || centre <= 0 ? null : spread / centre,
    uWeighingGpt: rootMeanSquare(tests.map((test) => test.uWeighing)),
    uWeighingAndSamplingGpt,
    uSharedGpt,
    spreadTest: testSpread(tests.map((test) => ({ value: test.value, u: test.uOwn }))),
    furthestOff: grubbs && { ...grubbs, index: tests[grubbs.index]?.index ?? grubbs.index },
  };
}

function uncertaintyByKind(result: TestSmeltResult, metal: AssayedMetal) {
  const u = (...kinds: BudgetShare['kind'][]): number =>
    Math.hypot(
      ...result.budget
        .filter((share) => share.target === metal && kinds.includes(share.kind))
        .map((share) => share.uGpt),
    );
  return { uWeighing: u('weighing'), uOwn: u('weighing', 'sampling'), uShared: u('shared') };
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.hypot(...values) / Math.sqrt(values.length);
}

function testSpread(tests: readonly Measured[]): TrialMetal['spreadTest'] {
  if (tests.length < 2 || tests.some((test) => test.u === 0)) return null;
  const weights = tests.map((test) => 1 / test.u ** 2);
  const totalWeight = weights.reduce((total, w) => total + w, 0);
  const centre = tests.reduce((total, test, i) => total + test.value * (weights[i] ?? 0), 0) / totalWeight;
  const chiSquare = tests.reduce((total, test) => total + ((test.value - centre) / test.u) ** 2, 0);
  const degreesOfFreedom = tests.length - 1;
  return { chiSquare, degreesOfFreedom, p: chiSquareUpperTail({ x: chiSquare, degreesOfFreedom }) };
}
