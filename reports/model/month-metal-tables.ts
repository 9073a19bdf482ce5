import type { MetalAmount } from '../../api/calc/books/metal-account.ts';
import type { Stage } from '../../api/calc/books/mill-account.ts';
import type { Metal } from '../../api/calc/evidence/lot-evidence.ts';
import type { Measured } from '../../api/calc/measured.ts';
import { formatEstimate, NO_FIGURE } from './format.ts';
import type { MetalOfMonth, MonthReportInput } from './month-input.ts';
import { inOwnerUnits, type InOwnerUnits } from './owner-units.ts';
import type { TableBlock, TableRow } from './report.ts';
import { figure, text } from './table-parts.ts';

export const METAL_WORDS: Record<Metal, string> = { Au: 'Gold', Ag: 'Silver' };

export const sumG = (amounts: readonly MetalAmount[]): number =>
  amounts.reduce((sum, { metalG }) => sum + metalG.value, 0);

/**
 * Missing (below zero) or too much beyond the losses that the batches were forecast to have, less what of these was
 * found again in by-products: those are in the account like any product. Null where not known.
 */
export function lossesBeyondForecast({ account, forecastLossG, byProductsG }: MetalOfMonth): Measured | null {
  if (forecastLossG === null) return null;
  const { unaccountedG } = account.account;
  return {
    value: unaccountedG.value + forecastLossG.value - byProductsG,
    u: Math.hypot(unaccountedG.u, forecastLossG.u),
  };
}

/**
 * The account of both metals, side by side. What must be there is worked from the figures as they print, so that the
 * columns can be added up by hand.
 */
export function accountTable({ metals, units }: MonthReportInput): TableBlock {
  const shown = inOwnerUnits(units);
  const columns = (['Au', 'Ag'] as const).map((metal) => accountColumn(metals[metal], shown));
  const row = (label: string, key: keyof AccountColumn, style: TableRow['style'] = 'plain'): TableRow => ({
    style,
    cells: { label, gold: columns[0]?.[key] ?? NO_FIGURE, silver: columns[1]?.[key] ?? NO_FIGURE },
  });
  return {
    kind: 'table',
    caption: `Metal account by weighing and assay, ${shown.metalUnit} contained, ± with coverage factor 2`,
    columns: [text('label', 'What', 46), figure('gold', 'Gold', 27), figure('silver', 'Silver', 27)],
    rows: [
      row('Opening: in lots', 'openingLots'),
      row('Opening: in work', 'openingWork'),
      row('Opening: in bars, parcels and by-products assayed', 'openingProducts'),
      row('In: lots made or bought', 'received'),
      row('Out: test smelts and written off', 'taken'),
      row('Out: gone to buyers', 'shipped'),
      row('So there must be', 'expected', 'subtotal'),
      row('Closing: in lots', 'closingLots'),
      row('Closing: in work', 'closingWork'),
      row('Closing: in bars, parcels and by-products assayed', 'closingProducts'),
      row('So there is', 'closing', 'subtotal'),
      row('Unaccounted', 'unaccounted', 'total'),
      row('Of this, as the batches’ forecasts leave in slag, matte and fume', 'forecastLoss'),
      row('Of that, found again in matte, slag and lead assayed', 'found'),
      row('Left unexplained', 'beyond'),
    ],
  };
}

type AccountColumn = Record<
  | 'openingLots'
  | 'openingWork'
  | 'openingProducts'
  | 'received'
  | 'taken'
  | 'shipped'
  | 'expected'
  | 'closingLots'
  | 'closingWork'
  | 'closingProducts'
  | 'closing'
  | 'unaccounted'
  | 'forecastLoss'
  | 'found'
  | 'beyond',
  string
>;

/** Figures of an account as they print, so that they can be added up by hand. */
export function accountFigures({ account }: MetalOfMonth, shown: InOwnerUnits) {
  const rounded = (amounts: readonly MetalAmount[]): number => shown.roundedMetal(sumG(amounts));
  const at = (stages: Record<Stage, MetalAmount[]>) => ({
    lots: rounded(stages.lots),
    work: rounded(stages['in-work']),
    products: rounded(stages.products),
  });
  const [opening, closing] = [at(account.opening), at(account.closing)];
  const [received, taken, shipped] = [
    rounded(account.received),
    rounded(account.taken),
    rounded(account.shipped),
  ] as const;
  const expected = opening.lots + opening.work + opening.products + received - taken - shipped;
  const there = closing.lots + closing.work + closing.products;
  return { opening, closing, received, taken, shipped, expected, there, unaccounted: there - expected };
}

function accountColumn(metal: MetalOfMonth, shown: InOwnerUnits): AccountColumn {
  const figures = accountFigures(metal, shown);
  const { opening, closing } = figures;
  const put = (value: number): string => formatEstimate(value, shown.metalDecimals);
  const spread = (value: number, u: number): string =>
    `${put(value)} ± ${formatEstimate(shown.roundedMetal(2 * u), shown.metalDecimals)}`;
  const { expectedG, closingG, unaccountedG } = metal.account.account;
  const { forecastLossG } = metal;
  const beyond = lossesBeyondForecast(metal);
  const loss = shown.roundedMetal(forecastLossG?.value ?? 0);
  const found = shown.roundedMetal(metal.byProductsG);
  return {
    openingLots: put(opening.lots),
    openingWork: put(opening.work),
    openingProducts: put(opening.products),
    received: put(figures.received),
    taken: put(-figures.taken),
    shipped: put(-figures.shipped),
    expected: spread(figures.expected, expectedG.u),
    closingLots: put(closing.lots),
    closingWork: put(closing.work),
    closingProducts: put(closing.products),
    closing: spread(figures.there, closingG.u),
    unaccounted: spread(figures.unaccounted, unaccountedG.u),
    forecastLoss: forecastLossG === null ? NO_FIGURE : put(-loss),
    found: put(found),
    beyond: beyond === null ? NO_FIGURE : spread(figures.unaccounted + loss - found, beyond.u),
  };
}

/** What the account says, in a sentence a metal. */
export function accountSentences({ metals, units }: MonthReportInput): string[] {
  const shown = inOwnerUnits(units);
  return (['Au', 'Ag'] as const).flatMap((metal) => {
    const of = metals[metal];
    const { account } = of.account;
    const name = METAL_WORDS[metal];
    if (account.openingG.value + account.inG.value === 0 && account.closingG.value === 0) return [];
    const { unaccounted } = accountFigures(of, shown);
    const put = (value: number) =>
      `${formatEstimate(Math.abs(value), shown.metalDecimals)} ${shown.metalUnit}`;
    if (put(unaccounted) === put(0)) return [`${name}: there is as much as there must be.`];
    const first = `${name}: there is ${put(unaccounted)} ${unaccounted < 0 ? 'less' : 'more'} than there must be, ${
      account.moreThanExplained ? 'more than' : 'no more than'
    } scales and assays explain (± ${shown.metal(2 * account.unaccountedG.u)}).`;
    const beyond = lossesBeyondForecast(of);
    if (!account.moreThanExplained || beyond === null || of.forecastLossG?.value === 0) return [first];
    const left =
      unaccounted + shown.roundedMetal(of.forecastLossG?.value ?? 0) - shown.roundedMetal(of.byProductsG);
    const explains =
      Math.abs(beyond.value) <= 2 * beyond.u
        ? 'The losses that the batches were forecast to have explain it.'
        : beyond.value < 0
          ? `Beyond the losses that the batches were forecast to have, ${put(left)} are missing: look at matte, slag, sweepings and crucibles first, then for an assay that does not belong to its sample.`
          : `The batches gave ${put(left)} more than their forecasts, beyond chance: their lots hold more than was thought, or the recovery is higher.`;
    return [`${first} ${explains}`];
  });
}
