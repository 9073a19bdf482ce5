import { usualAssayUncertainty } from '../assay/lab-assay.ts';
import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import type { BookDay } from './book-records.ts';
import { twoProduct, type TwoProduct } from './two-product.ts';

export interface FeedResult {
  /** g/t gold. Null where the three are not all known. */
  grades: Record<'feed' | 'concentrate' | 'tailings', Measured> | null;
  twoProduct: TwoProduct | null;
  findings: Finding[];
}

/** Grade of one stream over the days, weighted by their dry feed, each assay with its usual uncertainty. */
function weighted(days: readonly { feedDryT: number; gradeGpt: number }[]): Measured {
  const whole = days.reduce((sum, { feedDryT }) => sum + feedDryT, 0);
  return {
    value: days.reduce((sum, { feedDryT, gradeGpt }) => sum + (feedDryT / whole) * gradeGpt, 0),
    u: Math.hypot(
      ...days.map(
        ({ feedDryT, gradeGpt }) =>
          (feedDryT / whole) * usualAssayUncertainty({ value: gradeGpt, unit: 'g/t' }),
      ),
    ),
  };
}

/**
 * What share of the feed's gold the concentrate of some days holds, by assays alone: over the days whose feed and
 * tailings were both assayed, weighted by their dry feed, with the concentrate as its lots hold it.
 * Source: `twoProduct`.
 */
export function feedOfDays(days: readonly BookDay[], concentrate: Measured | null): FeedResult {
  const assayed = days.flatMap(({ feedDryT, assays: { feedGoldGpt, tailingsGoldGpt } }) =>
    feedDryT === null || feedGoldGpt === null || tailingsGoldGpt === null || !(Number(feedDryT) > 0)
      ? []
      : [{ feedDryT: Number(feedDryT), feed: Number(feedGoldGpt), tailings: Number(tailingsGoldGpt) }],
  );
  if (assayed.length === 0 || concentrate === null) return { grades: null, twoProduct: null, findings: [] };
  const grades = {
    feed: weighted(assayed.map(({ feedDryT, feed }) => ({ feedDryT, gradeGpt: feed }))),
    concentrate,
    tailings: weighted(assayed.map(({ feedDryT, tailings }) => ({ feedDryT, gradeGpt: tailings }))),
  };
  const { result, findings } = twoProduct({
    feedGrade: grades.feed,
    concentrateGrade: grades.concentrate,
    tailingsGrade: grades.tailings,
  });
  return { grades, twoProduct: result, findings };
}
