import type { TrialComparison } from './compare-trials.ts';
import type { ComparisonMethod } from './comparison-spread.ts';
import { chanceFigure, figure, gradeFigure } from './figures.ts';
import type { GradeUnit } from './figures.ts';
import { metalNames } from './trial.ts';
import type { AssayedMetal } from './trial.ts';

/** The comparison in plain words: the verdict first, then the difference, its range, and what would settle it. */
export function comparisonSentence({
  comparison,
  metal,
  names,
  gradeUnit,
}: {
  comparison: Omit<TrialComparison, 'sentence'>;
  metal: AssayedMetal;
  names: { a: string; b: string };
  gradeUnit: GradeUnit;
}): string {
  const {
    differenceGpt,
    interval95Gpt,
    probabilityBBetter,
    verdict,
    furtherReplicatesOfEach,
    weighingShareFrac,
  } = comparison;
  const bAhead = differenceGpt.value >= 0;
  const [ahead, behind] = bAhead ? [names.b, names.a] : [names.a, names.b];
  const grade = (gpt: number, digits = 3): string => gradeFigure(gpt, gradeUnit, digits);
  const unit = gradeUnit.name;
  const gave = `${ahead} gave ${grade(Math.abs(differenceGpt.value))} ${unit} more ${metalNames[metal]} than ${behind}`;

  if (interval95Gpt === null || probabilityBBetter === null) {
    return `Not proven: ${gave}, but how far two tests of the same treatment differ is not known, and weighing error (here ± ${grade(2 * differenceGpt.u, 2)} ${unit}) cannot stand in for it. One more test of each is the least that can tell.`;
  }
  const [low, high] = bAhead
    ? [interval95Gpt.low, interval95Gpt.high]
    : [-interval95Gpt.high, -interval95Gpt.low];
  const range = `95 % range ${rangeFigures(low, high, gradeUnit)} ${unit}`;
  const chance = chanceFigure(bAhead ? probabilityBBetter : 1 - probabilityBBetter);
  if (verdict !== 'not proven')
    return `Proven: ${gave} (${range}); the chance that it is the better is ${chance}.`;

  const settle =
    furtherReplicatesOfEach === null
      ? 'Further replicates would hardly settle it.'
      : `If the difference is as large as it looks, ${furtherReplicatesOfEach} more of each would prove it with 9 chances in 10.`;
  const weighing =
    weighingShareFrac > 0.5
      ? ' Most of the uncertainty is weighing: a finer balance or larger samples would say more than further tests like these.'
      : '';
  return `Not proven: ${gave} (${range}); the chance that it is the better is ${chance}. ${settle}${weighing}`;
}

/** Two ends of a range with the decimals that give the larger three figures, so that neither claims more than the other. */
function rangeFigures(lowGpt: number, highGpt: number, { gpt }: GradeUnit): string {
  const ends = [lowGpt / gpt, highGpt / gpt];
  const largest = Math.max(...ends.map(Math.abs));
  const decimals = largest > 0 ? Math.max(0, 2 - Math.floor(Math.log10(largest))) : 0;
  const figures = ends.map((end) =>
    // An end that would print as nothing keeps a figure of its own: on which side of nothing it lies is the verdict.
    Number(end.toFixed(decimals)) === 0
      ? figure(end, 1)
      : end.toLocaleString('en-US', { minimumFractionDigits: decimals, maximumFractionDigits: decimals }),
  );
  return figures.join(' to ').replaceAll('-', '−');
}

/** How a comparison was worked, for someone who has not studied statistics; the method by its name in brackets. */
export function methodInWords(method: ComparisonMethod): string {
  switch (method) {
    case 'one test each: weighing and sampling error only':
      return 'One test of each. What weighing and sampling make uncertain is known, but not by how much two smelts of one treatment differ.';
    case 'replicates of one trial: their spread taken for both':
      return 'The replicates of one trial show how much two smelts of one treatment differ; the other is taken to scatter alike (t test with the spread of one).';
    case 'replicates of both: Welch':
      return 'The replicates of each trial show how much its own tests differ (Welch’s t test).';
    case "replicate spread pooled with the mill's other trials":
      return 'How much two smelts of one treatment differ is taken from the replicates of these trials and of all others of the mill together (t test with pooled spread).';
  }
}
