import type { Range } from '../../api/calc/smelting/range.ts';
import type { RecipeWork } from '../../api/calc/smelting/recipe-work.ts';
import { silicateName } from '../../api/calc/smelting/slag.ts';
import { formatEstimate } from './format.ts';
import type { TableBlock, TableRow } from './report.ts';
import { figure, text } from './table-parts.ts';

const units = {
  /** Of a batch's charge. */
  large: { mass: 'kg', volume: 'L', perUnit: 1000, massDecimals: 2, volumeDecimals: 1 },
  /** Of 100 g. */
  small: { mass: 'g', volume: 'mL', perUnit: 1, massDecimals: 1, volumeDecimals: 0 },
} as const;

/** Not rounded away to nothing. */
const isShown = (figureText: string): boolean => /[1-9]/.test(figureText);

/** What a recipe will do (`workRecipe`): a row for what is to be expected, and none for what is not. */
export function recipeEffectTable(
  work: RecipeWork,
  {
    caption,
    size,
    measuredMatte = null,
  }: {
    caption: string;
    size: keyof typeof units;
    /** What the test smelts of the lot gave, for the same mass of concentrate in g. */
    measuredMatte?: (Range & { testCount: number }) | null;
  },
): TableBlock {
  const { mass, volume, perUnit, massDecimals, volumeDecimals } = units[size];
  const masses = (value: number) => formatEstimate(value / perUnit, massDecimals);
  const volumes = (value: number) => formatEstimate(value / perUnit, volumeDecimals);
  const row = (name: string, value: string, range?: { low: string; high: string }): TableRow => ({
    style: 'plain',
    cells: { name, low: range?.low ?? '', value, high: range?.high ?? '' },
  });
  const ranged = (name: string, of: Range, words: (value: number) => string): TableRow[] =>
    isShown(words(of.high)) ? [row(name, words(of.value), { low: words(of.low), high: words(of.high) })] : [];
  const single = (name: string, value: number): TableRow[] =>
    isShown(masses(value)) ? [row(name, masses(value))] : [];

  const { bulkVolumeMl, fillFrac } = work.volume;
  const percentFull = (volumeMl: number) =>
    formatEstimate((100 * (fillFrac ?? 0) * volumeMl) / bulkVolumeMl.value, 0);
  return {
    kind: 'table',
    caption,
    columns: [
      text('name', 'What', 52),
      figure('low', 'Low', 16),
      figure('value', 'Likely', 16),
      figure('high', 'High', 16),
    ],
    rows: [
      ...single(`Lead reduced from litharge, ${mass}`, work.oxygen.leadReducedG),
      ...ranged(`Matte, ${mass}`, work.matte.matteG, masses),
      ...(measuredMatte === null
        ? []
        : [
            row(
              `Matte by ${measuredMatte.testCount === 1 ? 'the test smelt' : `the ${measuredMatte.testCount} test smelts`} of this lot, ${mass}`,
              masses(measuredMatte.value),
              { low: masses(measuredMatte.low), high: masses(measuredMatte.high) },
            ),
          ]),
      ...ranged(`Lead that goes to the matte, ${mass}`, work.matte.leadInMatteG, masses),
      ...single(`Speiss, at most, ${mass}`, work.speissG),
      ...single(`Iron that the sulfides take up, ${mass}`, work.ironNeededG),
      ...single(`Sulfur dioxide given off by the melt, at most, ${mass}`, work.sulfurDioxideG),
      ...(work.silicateDegree === null
        ? []
        : [
            row(
              `Silicate degree of the slag (${silicateName(work.silicateDegree)})`,
              formatEstimate(work.silicateDegree, 2),
            ),
          ]),
      ...ranged(`Loose volume before melting, ${volume}`, bulkVolumeMl, volumes),
      ...(fillFrac === null ? [] : ranged('Of the crucible filled by it, %', bulkVolumeMl, percentFull)),
    ],
  };
}
