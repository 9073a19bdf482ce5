import { oneWayAnova } from '../statistics/one-way-anova.ts';
import type { OneWayAnova } from '../statistics/one-way-anova.ts';
import { chanceFigure } from './figures.ts';
import { metalNames } from './trial.ts';
import type { AssayedMetal, TrialResult } from './trial.ts';

/**
 * Whether several trials differ in a metal at all, before any two are compared (where many pairs are looked at, one
 * will seem to differ by chance): one-way analysis of variance of the grades. Null with fewer than two trials that
 * gave the metal, or without replicates in any.
 */
export function compareManyTrials({
  trials,
  metal,
}: {
  trials: readonly TrialResult[];
  metal: AssayedMetal;
}): (OneWayAnova & { verdict: 'they differ' | 'not proven'; sentence: string }) | null {
  const groups = trials.flatMap((trial) => {
    const worked = trial[metal];
    return worked === null
      ? []
      : [{ n: worked.n, mean: worked.meanGpt.value, standardDeviation: worked.standardDeviationGpt }];
  });
  const anova = oneWayAnova(groups);
  if (anova === null) return null;
  const differ = anova.p < 0.05;
  return {
    ...anova,
    verdict: differ ? 'they differ' : 'not proven',
    sentence: differ
      ? `The ${groups.length} trials differ in ${metalNames[metal]} by more than replicates of one trial do: chance alone would make them differ so in ${chanceFigure(anova.p)} of cases (one-way analysis of variance).`
      : `Not proven: the ${groups.length} trials differ in ${metalNames[metal]} no more than replicates of one trial may: chance alone would make them differ so in ${chanceFigure(anova.p)} of cases (one-way analysis of variance).`,
  };
}
