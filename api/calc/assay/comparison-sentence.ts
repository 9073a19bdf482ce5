import type { TrialComparison } from './compare-trials.ts';
import { chanceFigure, figure } from './figures.ts';
import { metalNames } from './trial.ts';
import type { AssayedMetal } from './trial.ts';

/** The comparison in plain words: the verdict first, then the difference, its range, and what would settle it. */
export function comparisonSentence({
  comparison,
  metal,
  names,
}: {
  comparison: Omit<TrialComparison, 'sentence'>;
  metal: AssayedMetal;
  names: { a: string; b: string };
}): string {
  const { differenceGpt, interval95Gpt, probabilityBBetter, verdict, furtherReplicatesOfEach } = comparison;
  const bAhead = differenceGpt.value >= 0;
  const [ahead, behind] = bAhead ? [names.b, names.a] : [names.a, names.b];
  const gave = `${ahead} gave ${figure(Math.abs(differenceGpt.value))} g/t more ${metalNames[metal]} than ${behind}`;

  if (interval95Gpt === null || probabilityBBetter === null) {
    return `Not proven: ${gave}, but how far two tests of the same treatment differ is not known, and weighing error (here ± ${figure(2 * differenceGpt.u)} g/t) cannot stand in for it. One more test of each is the least that can tell.`;
  }
  const [low, high] = bAhead
    ? [interval95Gpt.low, interval95Gpt.high]
    : [-interval95Gpt.high, -interval95Gpt.low];
  const range = `95 % range ${figure(low, 3)} to ${figure(high, 3)} g/t`;
  const chance = chanceFigure(bAhead ? probabilityBBetter : 1 - probabilityBBetter);
  if (verdict !== 'not proven') return `${gave} (${range}); the chance that it is the better is ${chance}.`;

  const settle =
    furtherReplicatesOfEach === null
      ? 'Further replicates would hardly settle it.'
      : `If the difference is as large as it looks, ${furtherReplicatesOfEach} more of each would prove it with 9 chances in 10.`;
  return `Not proven: ${gave} (${range}); the chance that it is the better is ${chance}. ${settle}`;
}
