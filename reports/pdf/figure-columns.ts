import type { TableRow } from '../model/report.ts';
import type { MeasureText } from './wrap.ts';

/** A cell that begins with a number, cut so that a column can stand on its decimal points. */
export interface Figure {
  /** Sign and whole part, for example `−1,234`. */
  whole: string;
  /** Decimal point and decimals, or ''. */
  fraction: string;
  /** What follows, for example ` USD/ozt`, without its leading space. */
  tail: string;
}

const FIGURE = /^([+\u2212-]?\d(?:[\d,\u2009\u202f]*\d)?)(\.\d+)?(?:$|[ \u00a0](.*)$)/s;

/** The parts of a figure; null where the cell does not begin with a number. */
export function figureOf(cell: string): Figure | null {
  const match = FIGURE.exec(cell);
  if (match === null) return null;
  return { whole: match[1] ?? '', fraction: match[2] ?? '', tail: match[3] ?? '' };
}

/** Widest whole part, fraction and tail of a column, in points. */
export interface FigureColumn {
  wholePt: number;
  fractionPt: number;
  tailPt: number;
}

/** Space between a figure and the unit behind it. */
export const UNIT_GAP_PT = 2.6;

/** Width that a column of figures takes when it stands on its decimal points. */
export function figureColumnWidthPt(column: FigureColumn): number {
  return column.wholePt + column.fractionPt + (column.tailPt > 0 ? UNIT_GAP_PT + column.tailPt : 0);
}

/** Measures a column's figures; each row in the weight that it is printed in. */
export function figureColumn(
  rows: TableRow[],
  key: string,
  measure: (row: TableRow) => MeasureText,
): FigureColumn {
  const column: FigureColumn = { wholePt: 0, fractionPt: 0, tailPt: 0 };
  for (const row of rows) {
    if (row.style === 'section') continue;
    const figure = figureOf(row.cells[key] ?? '');
    if (figure === null) continue;
    const width = measure(row);
    column.wholePt = Math.max(column.wholePt, width(figure.whole));
    column.fractionPt = Math.max(column.fractionPt, figure.fraction === '' ? 0 : width(figure.fraction));
    column.tailPt = Math.max(column.tailPt, figure.tail === '' ? 0 : width(figure.tail));
  }
  return column;
}

/**
 * Column widths that add up to `widthPt`: first by weight; then what figures
 * and single words need more than their share is taken from the columns that
 * have the most to spare.
 */
export function columnWidths(columns: { weight: number; neededPt: number }[], widthPt: number): number[] {
  const sum = columns.reduce((total, column) => total + column.weight, 0);
  const widths = columns.map((column) => (widthPt * column.weight) / sum);
  columns.forEach((column, index) => {
    for (;;) {
      const short = column.neededPt - (widths[index] ?? 0);
      if (short <= 0.01) return;
      const spare = widths.map((width, other) =>
        other === index ? 0 : width - (columns[other]?.neededPt ?? 0),
      );
      const giver = spare.indexOf(Math.max(...spare));
      const given = Math.min(short, spare[giver] ?? 0);
      if (given <= 0.01) return;
      widths[giver] = (widths[giver] ?? 0) - given;
      widths[index] = (widths[index] ?? 0) + given;
    }
  });
  return widths;
}
