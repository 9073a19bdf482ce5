import { saidFigure, saidMoney } from '../economics/decision-sentence.ts';
import { gramsPerTroyOunce } from '../units.ts';

const MOST = 3;
/** A recovery that is known to better than this, as ± with coverage factor 2, is known well enough to plan by. */
const WELL_KNOWN_FRAC = 0.06;

/**
 * What to find out next: the largest uncertainties that are left, those with the most money at stake first. A lot of
 * which something is left has (p90 − p10) × kg ÷ 1000 g at stake, times the price of gold; a treatment that is used
 * asks for tests where its recovery is not known to ± 6 points. Sentences are fixed; only the figures change.
 */
export function nextQuestions({
  lots,
  treatments,
  pricePerOzt,
  currency,
}: {
  lots: readonly { code: string; leftKg: number; goldGpt: { p10: number; p90: number } | null }[];
  treatments: readonly { name: string; recoverySdFrac: number; lotsTested: number }[];
  /** Of gold; null where it is not quoted. */
  pricePerOzt: number | null;
  currency: string;
}): string[] {
  const unknown = lots.filter(({ leftKg, goldGpt }) => leftKg > 0 && goldGpt === null);
  const atStake = lots
    .flatMap(({ code, leftKg, goldGpt }) =>
      goldGpt === null || leftKg <= 0
        ? []
        : [{ code, leftKg, goldGpt, spreadG: ((goldGpt.p90 - goldGpt.p10) * leftKg) / 1000 }],
    )
    .filter(({ spreadG }) => spreadG > 0)
    .toSorted((a, b) => b.spreadG - a.spreadG)
    .slice(0, MOST);
  return [
    ...(unknown.length === 0
      ? []
      : [
          `What ${unknown.length === 1 ? 'does lot' : 'do lots'} ${unknown.map(({ code }) => code).join(', ')} hold? Nothing speaks of their gold yet: a laboratory assay or a test smelt would.`,
        ]),
    ...atStake.map(({ code, leftKg, goldGpt, spreadG }) => {
      const worth =
        pricePerOzt === null
          ? ''
          : `, about ${saidMoney((spreadG / gramsPerTroyOunce) * pricePerOzt, currency)}`;
      return `What does lot ${code} hold? Its ${saidFigure(leftKg)} kg left have between ${saidFigure(goldGpt.p10)} and ${saidFigure(goldGpt.p90)} g/t of gold in 8 chances of 10: ${saidFigure(spreadG)} g lie between them${worth}. A laboratory assay or more test smelts narrow it.`;
    }),
    ...treatments
      .filter(({ recoverySdFrac }) => 2 * recoverySdFrac > WELL_KNOWN_FRAC)
      .toSorted((a, b) => b.recoverySdFrac - a.recoverySdFrac)
      .slice(0, MOST)
      .map(
        ({ name, recoverySdFrac, lotsTested }) =>
          `What does “${name}” recover? Its gold recovery on a new lot is known to ± ${saidFigure(200 * recoverySdFrac)} points, from tests of ${lotsTested === 0 ? 'no lot' : lotsTested === 1 ? 'one lot' : `${lotsTested} lots`}. Test smelts of further lots with a laboratory assay beside them narrow it.`,
      ),
  ];
}
