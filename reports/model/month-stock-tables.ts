import { figureOf, type Figures } from '../../api/calc/books/book-entry.ts';
import type { Stage } from '../../api/calc/books/mill-account.ts';
import type { Metal } from '../../api/calc/evidence/lot-evidence.ts';
import { Dec } from '../../api/calc/money.ts';
import { formatEstimate } from './format.ts';
import type { MonthReportInput } from './month-input.ts';
import { accountFigures, METAL_WORDS, sumG } from './month-metal-tables.ts';
import { inOwnerUnits } from './owner-units.ts';
import type { TableBlock, TableRow } from './report.ts';
import { figure, text, total } from './table-parts.ts';

const MADE: { label: string; kinds: string[] }[] = [
  { label: 'bars, beads and buttons', kinds: ['bar', 'bead', 'button'] },
  { label: 'parcels of concentrate', kinds: ['parcel'] },
  { label: 'matte, slag and lead assayed', kinds: ['matte', 'slag', 'lead'] },
];

/** Metal made, gone out and settled, the month beside the year to date. */
export function ouncesTable({ figures, units }: MonthReportInput): TableBlock {
  const shown = inOwnerUnits(units);
  const sum = (of: Figures, what: 'made' | 'shipped', kinds: readonly string[], metal: 'goldG' | 'silverG') =>
    kinds.reduce((all, kind) => all.plus(figureOf(of, `${what}/${kind}/${metal}`)), new Dec(0));
  const row = (label: string, value: (of: Figures, metal: 'goldG' | 'silverG') => string): TableRow => ({
    style: 'plain',
    cells: {
      label,
      gold: value(figures.month, 'goldG'),
      silver: value(figures.month, 'silverG'),
      goldYear: value(figures.year, 'goldG'),
      silverYear: value(figures.year, 'silverG'),
    },
  });
  const ofKinds = (what: 'made' | 'shipped', word: string): TableRow[] =>
    MADE.flatMap(({ label, kinds }) =>
      (['goldG', 'silverG'] as const).every((metal) => sum(figures.year, what, kinds, metal).isZero())
        ? []
        : [row(`${word}: ${label}`, (of, metal) => shown.metal(sum(of, what, kinds, metal).toFixed()))],
    );
  const rows = [...ofKinds('made', 'Made'), ...ofKinds('shipped', 'Shipped')];
  const settled = row('Settled: payable by statements', (of, metal) =>
    shown.ounces(figureOf(of, metal === 'goldG' ? 'payableGoldOzt' : 'payableSilverOzt').toFixed()),
  );
  return {
    kind: 'table',
    caption: `Metal made, shipped and settled, ${shown.metalUnit}; by the assays of the products themselves`,
    columns: [
      text('label', 'What', 36),
      figure('gold', 'Gold, month', 16),
      figure('silver', 'Silver, month', 16),
      figure('goldYear', 'Gold, year to date', 16),
      figure('silverYear', 'Silver, year to date', 16),
    ],
    rows: [...rows, settled],
  };
}

/** Where the metal lies at the end of the month, contained and, as far as settled parcels and bars tell, payable. */
export function metalStockTable({ metals, units, stock }: MonthReportInput): TableBlock {
  const shown = inOwnerUnits(units);
  const { closing } = stock;
  const kgOf = (rows: readonly { leftKg: string }[]): number =>
    rows.reduce((sum, { leftKg }) => sum + Number(leftKg), 0);
  const massOf = (rows: readonly { leftDryKg: string }[]): number =>
    rows.reduce((sum, { leftDryKg }) => sum + Number(leftDryKg), 0);
  const cells = (stage: Stage): Record<string, string> => ({
    gold: shown.metal(sumG(metals.Au.account.closing[stage])),
    silver: shown.metal(sumG(metals.Ag.account.closing[stage])),
  });
  const of = (kinds: (kind: string) => boolean) => closing.products.filter(({ kind }) => kinds(kind));
  const isBar = (kind: string) => kind === 'bar' || kind === 'bead' || kind === 'button';
  const held = (ids: ReadonlySet<string>, metal: Metal): number =>
    sumG(metals[metal].account.closing.products.filter(({ label }) => ids.has(label)));
  const productRow = (label: string, kinds: (kind: string) => boolean): TableRow[] => {
    const products = of(kinds);
    if (products.length === 0) return [];
    const codes = new Set(products.map(({ code }) => code));
    return [
      {
        style: 'plain',
        cells: {
          label,
          mass: shown.mass(massOf(products)),
          gold: shown.metal(held(codes, 'Au')),
          silver: shown.metal(held(codes, 'Ag')),
        },
      },
    ];
  };
  const plain = (label: string, mass: number, more: Record<string, string>): TableRow => ({
    style: 'plain',
    cells: { label, mass: shown.mass(mass), ...more },
  });
  return {
    kind: 'table',
    caption: `Where the metal is at the end of the month; mass in ${shown.massUnit} dry, metal in ${shown.metalUnit} contained`,
    columns: [
      text('label', 'Where', 40),
      figure('mass', `Mass, ${shown.massUnit}`, 20),
      figure('gold', 'Gold', 20),
      figure('silver', 'Silver', 20),
    ],
    rows: [
      ...(Number(closing.daysDryKg) > 0
        ? [
            plain('Concentrate of days, in no lot yet', Number(closing.daysDryKg), {
              gold: 'not assayed',
              silver: 'not assayed',
            }),
          ]
        : []),
      plain('Concentrate in lots', kgOf(closing.lots), cells('lots')),
      plain(
        'In work',
        closing.inWork.reduce((sum, { dryMassKg }) => sum + Number(dryMassKg), 0),
        cells('in-work'),
      ),
      ...productRow('Bars, beads and buttons', isBar),
      ...productRow('Parcels for sale', (kind) => kind === 'parcel'),
      ...productRow('Matte, slag and lead', (kind) => !isBar(kind) && kind !== 'parcel'),
      total({
        label: 'At the mill',
        gold: formatEstimate(accountFigures(metals.Au, shown).there, shown.metalDecimals),
        silver: formatEstimate(accountFigures(metals.Ag, shown).there, shown.metalDecimals),
      }),
      plain('With buyers, not settled for good', massOf(closing.withBuyers), cells('with-buyers')),
    ],
  };
}

/** The same in payable terms, as far as what was settled in the month tells. */
export function payableSentence({ metals, units }: MonthReportInput): string | null {
  const shown = inOwnerUnits(units);
  const of = (kind: 'bar' | 'parcel', name: string): string[] => {
    const words = (['Au', 'Ag'] as const).flatMap((metal) => {
      const { payableFrac, inProductsG } = metals[metal];
      const share = payableFrac[kind];
      if (share === undefined) return [];
      const [held, paid] = [inProductsG[kind], inProductsG[kind] * share];
      const rest =
        held === 0
          ? ''
          : `, so of the ${shown.metal(held)} ${shown.metalUnit} in ${name} about ${shown.metal(paid)}`;
      return [`${METAL_WORDS[metal].toLowerCase()} ${(100 * share).toFixed(1)} %${rest}`];
    });
    return words.length === 0
      ? []
      : [
          `In payable terms: of the metal in the ${name} settled this month buyers paid for ${words.join('; ')}.`,
        ];
  };
  const sentences = [...of('bar', 'bars'), ...of('parcel', 'parcels')];
  return sentences.length === 0 ? null : sentences.join(' ');
}
