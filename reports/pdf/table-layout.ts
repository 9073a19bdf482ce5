import type { TableBlock, TableRow } from '../model/report.ts';
import {
  columnWidths,
  figureColumn,
  figureColumnWidthPt,
  figureOf,
  type FigureColumn,
} from './figure-columns.ts';
import { cleaned, linesOf, textWidth, type Paper } from './paper.ts';
import { CELL, CELL_BOLD, COLUMN_HEAD, DETAIL, SECTION, type TypeStyle } from './type-styles.ts';

/** Space on either side of a cell's text, and above and below a row's. */
const GUTTER_PT = 5;
const BOX_GUTTER_PT = 3;
export const ROW_PAD_PT = 2.6;
/** Space for a pencil's figures in a row that is to be filled in. */
const PENCIL_PT = 19;
/** What a double rule under a total takes. */
export const TOTAL_FOOT_PT = 5;

export interface ColumnLayout {
  key: string;
  align: 'start' | 'end';
  /** The column's outer edges, between which a box is ruled. */
  fromPt: number;
  toPt: number;
  /** Left edge on the page, and width of the text. */
  xPt: number;
  widthPt: number;
  headLines: readonly string[];
  /** Null where the column does not stand on its decimal points. */
  figures: FigureColumn | null;
}

export interface RowLayout {
  row: TableRow;
  style: TypeStyle;
  /** Lines of each cell, in the order of the columns; a section row has one, across the table. */
  cellLines: (readonly string[])[];
  detailLines: readonly string[];
  heightPt: number;
}

export interface TableLayout {
  columns: ColumnLayout[];
  headHeightPt: number;
  rows: RowLayout[];
  /** Ruled all round, to be filled in. */
  boxed: boolean;
}

export function styleOfRow(row: TableRow): TypeStyle {
  if (row.style === 'section') return SECTION;
  return row.style === 'plain' ? CELL : CELL_BOLD;
}

/** Works out widths, lines and heights of a whole table. */
export function layOutTable(paper: Paper, table: TableBlock): TableLayout {
  const columns = layOutColumns(paper, table);
  const headHeight = Math.max(1, ...columns.map((column) => column.headLines.length)) * COLUMN_HEAD.leading;
  return {
    columns,
    headHeightPt: headHeight + 2 * ROW_PAD_PT,
    rows: table.rows.map((row) => layOutRow(paper, columns, row, table.toFillIn === true ? PENCIL_PT : 0)),
    boxed: table.toFillIn === true,
  };
}

function layOutColumns(paper: Paper, table: TableBlock): ColumnLayout[] {
  const rows = table.rows.map((row) => ({ ...row, cells: cleanedCells(paper, row) }));
  const measured = table.columns.map((column) => {
    const words = cleaned(paper, COLUMN_HEAD.font, column.label).split(/\s+/);
    const headNeed = Math.max(...words.map((word) => textWidth(paper, COLUMN_HEAD, word)));
    if (column.align === 'start') return { column, figures: null, headNeed, neededPt: headNeed };
    const figures = figureColumn(
      rows,
      column.key,
      (row) => (text) => textWidth(paper, styleOfRow(row), text),
    );
    return { column, figures, headNeed, neededPt: Math.max(headNeed, figureColumnWidthPt(figures)) };
  });
  const widths = columnWidths(
    measured.map(({ column, neededPt }, index) => {
      const { startPt, endPt } = guttersPt(index, measured.length, table.toFillIn);
      return { weight: column.weight, neededPt: neededPt + startPt + endPt };
    }),
    paper.widthPt,
  );
  let x = paper.leftPt;
  return measured.map(({ column, figures }, index) => {
    const outer = widths[index] ?? 0;
    const { startPt, endPt } = guttersPt(index, measured.length, table.toFillIn);
    const widthPt = Math.max(1, outer - startPt - endPt);
    const fits = figures !== null && figureColumnWidthPt(figures) <= widthPt + 0.01;
    const layout: ColumnLayout = {
      key: column.key,
      align: column.align,
      fromPt: x,
      toPt: x + outer,
      xPt: x + startPt,
      widthPt,
      headLines: linesOf(paper, COLUMN_HEAD, column.label, widthPt),
      figures: fits ? figures : null,
    };
    x += outer;
    return layout;
  });
}

/** The outer columns stand flush with the text; a box has a gutter on either side. */
function guttersPt(
  index: number,
  count: number,
  boxed: true | undefined,
): { startPt: number; endPt: number } {
  if (boxed === true) return { startPt: BOX_GUTTER_PT, endPt: BOX_GUTTER_PT };
  return { startPt: index === 0 ? 0 : GUTTER_PT, endPt: index === count - 1 ? 0 : GUTTER_PT };
}

function cleanedCells(paper: Paper, row: TableRow): Record<string, string> {
  const { font } = styleOfRow(row);
  return Object.fromEntries(
    Object.entries(row.cells).map(([key, cell]) => [key, cleaned(paper, font, cell)]),
  );
}

function layOutRow(paper: Paper, columns: ColumnLayout[], row: TableRow, leastTextPt: number): RowLayout {
  const style = styleOfRow(row);
  const cellLines =
    row.style === 'section'
      ? [
          linesOf(
            paper,
            style,
            columns
              .map(({ key }) => row.cells[key] ?? '')
              .join(' ')
              .trim(),
            paper.widthPt,
          ),
        ]
      : columns.map((column) => cellLinesOf(paper, style, column, row.cells[column.key] ?? ''));
  const detailLines =
    row.detail === undefined || row.detail === '' ? [] : linesOf(paper, DETAIL, row.detail, paper.widthPt);
  const linesPt = Math.max(1, ...cellLines.map((lines) => lines.length)) * style.leading;
  const textPt = Math.max(linesPt, leastTextPt);
  return {
    row,
    style,
    cellLines,
    detailLines,
    heightPt: heightOfRow(row, textPt, detailLines.length * DETAIL.leading),
  };
}

function cellLinesOf(paper: Paper, style: TypeStyle, column: ColumnLayout, cell: string): readonly string[] {
  const clean = cleaned(paper, style.font, cell);
  if (column.figures !== null && figureOf(clean) !== null) return [clean];
  return linesOf(paper, style, clean, column.widthPt);
}

function heightOfRow(row: TableRow, textPt: number, detailPt: number): number {
  const foot = row.style === 'total' ? TOTAL_FOOT_PT : 0;
  const head = row.style === 'section' ? 5 : 0;
  return head + textPt + detailPt + 2 * ROW_PAD_PT + foot;
}

/** A row too high for a page, cut into rows that fit: first its cells, line by line, then its working. */
export function splitRow(layout: RowLayout, maxHeightPt: number): RowLayout[] {
  if (layout.heightPt <= maxHeightPt) return [layout];
  const { row, style } = layout;
  const room = maxHeightPt - 2 * ROW_PAD_PT - TOTAL_FOOT_PT - 5;
  const cellCount = Math.max(1, Math.floor(room / style.leading));
  const detailCount = Math.max(1, Math.floor(room / DETAIL.leading));
  const parts: RowLayout[] = [];
  const longest = Math.max(...layout.cellLines.map((lines) => lines.length));
  for (let from = 0; from < longest; from += cellCount) {
    const cellLines = layout.cellLines.map((lines) => lines.slice(from, from + cellCount));
    const textPt = Math.max(1, ...cellLines.map((lines) => lines.length)) * style.leading;
    parts.push({ row, style, cellLines, detailLines: [], heightPt: heightOfRow(row, textPt, 0) });
  }
  for (let from = 0; from < layout.detailLines.length; from += detailCount) {
    const detailLines = layout.detailLines.slice(from, from + detailCount);
    const heightPt = heightOfRow(row, 0, detailLines.length * DETAIL.leading);
    parts.push({ row, style, cellLines: [], detailLines, heightPt });
  }
  return parts;
}
