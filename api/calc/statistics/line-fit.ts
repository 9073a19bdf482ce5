import type { Measured } from '../measured.ts';
import { mean } from './sample.ts';

/** A straight line y = intercept + slope × x with the uncertainty that its scatter gives it. */
export interface FittedLine {
  intercept: Measured;
  slope: Measured;
  /** Covariance of intercept and slope. */
  covariance: number;
  residualStandardDeviation: number;
  degreesOfFreedom: number;
}

/**
 * Straight line by least squares through points of equal and unknown uncertainty in y, x exact: JCGM 100:2008,
 * H.3.2, eqs. H.13. Null with fewer than three points or where all have the same x.
 */
export function fitLine(points: readonly { x: number; y: number }[]): FittedLine | null {
  const n = points.length;
  const meanX = mean(points.map(({ x }) => x));
  const meanY = mean(points.map(({ y }) => y));
  const spreadX = points.reduce((total, { x }) => total + (x - meanX) ** 2, 0);
  if (n < 3 || spreadX === 0) return null;
  const slope = points.reduce((total, { x, y }) => total + (x - meanX) * (y - meanY), 0) / spreadX;
  const residuals = points.reduce((total, { x, y }) => total + (y - meanY - slope * (x - meanX)) ** 2, 0);
  const variance = residuals / (n - 2);
  return {
    intercept: { value: meanY - slope * meanX, u: Math.sqrt(variance * (1 / n + meanX ** 2 / spreadX)) },
    slope: { value: slope, u: Math.sqrt(variance / spreadX) },
    covariance: (-variance * meanX) / spreadX,
    residualStandardDeviation: Math.sqrt(variance),
    degreesOfFreedom: n - 2,
  };
}

/** Value of the line at x with its standard uncertainty: JCGM 100:2008, H.3.3, eq. H.15. */
export function lineAt({ line, x }: { line: FittedLine; x: number }): Measured {
  const { intercept, slope, covariance } = line;
  const variance = intercept.u ** 2 + x * x * slope.u ** 2 + 2 * x * covariance;
  // At the middle of the points rounding can leave a shade below zero where there is no scatter.
  return { value: intercept.value + slope.value * x, u: Math.sqrt(Math.max(0, variance)) };
}
