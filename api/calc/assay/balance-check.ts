import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { fitLine, lineAt } from '../statistics/line-fit.ts';
import type { FittedLine } from '../statistics/line-fit.ts';
import { logGamma } from '../statistics/gamma.ts';
import { standardDeviation } from '../statistics/sample.ts';
import { figure, percentFigure } from './figures.ts';
import { weighingUncertaintyG } from './weighing.ts';

/** Ten readings know the repeatability to a quarter (JCGM 100:2008, Table E.1). */
const enoughReadings = 10;

/**
 * Repeatability of a balance from repeated weighings of one thing: the standard deviation of the readings, g, and
 * how well so few readings know it, relative: σ(s)/s = √(1 − c²)/c with c = √(2/(n − 1))·Γ(n/2)/Γ((n − 1)/2), exact
 * for normal readings (JCGM 100:2008, E.4.3 and Table E.1). Null with fewer than two readings.
 */
export function balanceRepeatability({
  readingsG,
  readabilityG,
}: {
  readingsG: readonly number[];
  readabilityG: number;
}): { repeatabilityG: number; relativeUncertainty: number; findings: Finding[] } | null {
  const n = readingsG.length;
  if (n < 2) return null;
  const c = Math.sqrt(2 / (n - 1)) * Math.exp(logGamma(n / 2) - logGamma((n - 1) / 2));
  const relativeUncertainty = Math.sqrt(1 - c * c) / c;
  const repeatabilityG = standardDeviation(readingsG);
  const findings: Finding[] = [];
  if (n < enoughReadings) {
    findings.push({
      code: 'few-repeat-readings',
      level: 'note',
      path: '/readingsG',
      sentence: `${n} readings know the repeatability to about ${percentFigure(relativeUncertainty)} of itself; ten would know it to a quarter.`,
    });
  }
  if (repeatabilityG === 0) {
    findings.push({
      code: 'readings-all-equal',
      level: 'note',
      path: '/readingsG',
      sentence: `All readings are alike, so the repeatability is smaller than the step of ${figure(readabilityG)} g and the step governs.`,
    });
  }
  return { repeatabilityG, relativeUncertainty, findings };
}

/**
 * Error of a balance from check weights: reading − nominal as a straight line of the load (so a zero error and a
 * wrong span), by least squares. A finding for each check weight whose error, by the line, is larger than both its
 * own uncertainty (k = 2) and the step of the display. With fewer than three check weights there is no line, and
 * each reading is held against the uncertainty of its own weighing.
 */
export function checkBalance({
  checks,
  readabilityG,
  repeatabilityG = 0,
}: {
  checks: readonly { nominalMassG: number; readingG: number }[];
  readabilityG: number;
  repeatabilityG?: number;
}): { errorLine: FittedLine | null; findings: Finding[] } {
  const errorLine = fitLine(
    checks.map(({ nominalMassG, readingG }) => ({ x: nominalMassG, y: readingG - nominalMassG })),
  );
  const ownU = weighingUncertaintyG({ name: '', readabilityG, repeatabilityG });
  const wrong = checks.flatMap(({ nominalMassG, readingG }, i): Finding[] => {
    const { value, u } = errorLine
      ? lineAt({ line: errorLine, x: nominalMassG })
      : { value: readingG - nominalMassG, u: ownU };
    if (!isReal({ value, u }, readabilityG)) return [];
    return [
      {
        code: 'balance-reads-wrong',
        level: 'warning',
        path: `/checks/${i}`,
        sentence: `At ${figure(nominalMassG)} g the balance reads ${wrongBy(value)} (${percentFigure(Math.abs(value) / nominalMassG)}); calibrate it before the next test.`,
      },
    ];
  });
  if (errorLine !== null) return { errorLine, findings: wrong };
  return {
    errorLine,
    findings: [
      ...wrong,
      {
        code: 'few-check-weights',
        level: 'note',
        path: '/checks',
        sentence: `${checks.length === 1 ? 'One check weight does' : `${checks.length} check weights do`} not give a line; three of different mass are the least.`,
      },
    ],
  };
}

/** Whether an error is more than its own uncertainty (k = 2) and the step of the display; rounding of floats apart. */
export function isReal({ value, u }: Measured, readabilityG: number): boolean {
  return Math.abs(value) > Math.max(2 * u, readabilityG) * (1 + 1e-9);
}

/** An error of a balance in a sentence: "0.05 g too much". */
export function wrongBy(errorG: number): string {
  return `${figure(Math.abs(errorG))} g too ${errorG > 0 ? 'much' : 'little'}`;
}
