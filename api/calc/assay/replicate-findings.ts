import type { Finding } from '../finding.ts';
import { chanceFigure, figure, gptUnit, gradeFigure } from './figures.ts';
import type { GradeUnit } from './figures.ts';
import { metalNames } from './trial.ts';
import type { AssayedMetal, TrialMetal, TrialResult } from './trial.ts';

/** Below this p a spread or an outlier is spoken of: 5 %, the usual level. */
const significance = 0.05;

/** A trial with its name and those of the tests that count, in their order. */
export interface NamedTrial {
  name: string;
  tests: readonly string[];
  result: TrialResult;
}

/** The metals of a trial to look at: where both parts are known, what is true of the sum has been said of the part. */
function metalsOf({ gold, silver, goldPlusSilver }: TrialResult): [AssayedMetal, TrialMetal][] {
  const all: [AssayedMetal, TrialMetal | null][] = [
    ['gold', gold],
    ['silver', silver],
    ['goldPlusSilver', gold && silver ? null : goldPlusSilver],
  ];
  return all.flatMap(([metal, worked]) => (worked === null ? [] : [[metal, worked]]));
}

/**
 * What the replicates of a lot's trials say, each cause once: that they scatter by more than weighing and sampling
 * explain, over all trials and metals in one sentence, and each test that lies far from its fellows.
 */
export function replicateFindings(trials: readonly NamedTrial[], gradeUnit: GradeUnit = gptUnit): Finding[] {
  return [...spreadFinding(trials, gradeUnit), ...trials.flatMap(outlierFindings)];
}

function spreadFinding(trials: readonly NamedTrial[], unit: GradeUnit): Finding[] {
  const wide = trials.flatMap(({ name, result }) =>
    metalsOf(result).flatMap(([metal, worked]) => {
      const p = worked.spreadTest?.p ?? 1;
      return p < significance ? [{ name, metal, worked, p }] : [];
    }),
  );
  if (wide.length === 0) return [];
  const cases = wide.map(({ name, metal, worked }) => {
    const scatter = gradeFigure(worked.standardDeviationGpt ?? 0, unit, 3);
    const explained = gradeFigure(worked.uWeighingAndSamplingGpt, unit, 3);
    return `${name}, ${scatter} against ${explained} ${unit.name} of ${metalNames[metal]}`;
  });
  const p = Math.max(...wide.map((one) => one.p));
  const chance = chanceFigure(p);
  return [
    {
      code: 'replicates-spread-beyond-weighing',
      level: 'warning',
      path: '',
      sentence: `Replicates scatter by more than weighing and sampling explain (standard deviations): ${cases.join('; ')}. Chance alone would do that in ${chance} of such trials${cases.length === 1 || p < 0.001 ? '' : ' at most'}. Look for coarse gold, uneven roasts, matte or losses.`,
    },
  ];
}

function outlierFindings({ name, tests, result }: NamedTrial, trial: number): Finding[] {
  const off = metalsOf(result).flatMap(([metal, { furthestOff }]) =>
    furthestOff !== null && furthestOff.p < significance ? [{ metal, ...furthestOff }] : [],
  );
  return [...new Set(off.map(({ index }) => index))].map((index): Finding => {
    const here = off.filter((one) => one.index === index);
    const metals = here.map(({ metal }) => metalNames[metal]).join(' and ');
    const p = Math.min(...here.map((one) => one.p));
    return {
      code: 'replicate-out-of-line',
      level: 'warning',
      path: `/${trial}/${index}`,
      sentence: `Test ${tests[index] ?? index + 1} of ${name} lies far from the others in ${metals} (Grubbs' test, p ${p < 0.001 ? 'below 0.001' : figure(p, 2)}). It is kept in the mean; look in the notebook before leaving it out.`,
    };
  });
}
