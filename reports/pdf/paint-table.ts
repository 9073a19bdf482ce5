import type { TableBlock, TableRow } from '../model/report.ts';
import { figureColumnWidthPt, figureOf, UNIT_GAP_PT } from './figure-columns.ts';
import type { Piece } from './flow.ts';
import { INK, MUTED, RULE } from './palette.ts';
import { linesOf, paintLine, paintLines, paintRule, textWidth, type Paper } from './paper.ts';
import {
  layOutTable,
  ROW_PAD_PT,
  splitRow,
  TOTAL_FOOT_PT,
  type ColumnLayout,
  type RowLayout,
  type TableLayout,
} from './table-layout.ts';
import { openTag, paintArtifact, paintTagged, type Tag } from './tags.ts';
import { ASIDE, CAPTION, COLUMN_HEAD, DETAIL } from './type-styles.ts';

/** A table whose rows take less than this share of a page is not parted. */
const SHORT_TABLE_FRAC = 0.25;

/** A table as pieces: its caption with its head, then row by row, the head repeated on every page. */
export function tablePieces(paper: Paper, table: TableBlock): Piece[] {
  const layout = layOutTable(paper, table);
  const tags = tableTags(paper);
  const headPiece = captionAndHead(paper, table, layout, tags);
  const continued = repeatedHead(paper, table, layout);
  const room = paper.bodyHeightPt - continued.heightPt;
  const rows = layout.rows.flatMap((row) => splitRow(row, room));
  if (rows.length === 0) return [headPiece, emptyPiece(paper, layout, tags)];
  const rowsPt = rows.reduce((sum, row) => sum + row.heightPt, 0);
  const isShort = rowsPt <= paper.bodyHeightPt * SHORT_TABLE_FRAC;
  const pieces = rows.map((row, index): Piece => {
    const next = rows[index + 1];
    return {
      heightPt: row.heightPt,
      gapBeforePt: 0,
      keepWithNext:
        next !== undefined &&
        (isShort || row.row.style === 'section' || isSum(next.row) || nearEnd(index, rows.length)),
      repeated: continued,
      paint: (topPt) => {
        paintRow(paper, layout.columns, row, topPt, tags.body());
        if (layout.boxed)
          paintArtifact(paper.doc, 'Layout', () => boxRules(paper, layout.columns, row, topPt));
      },
    };
  });
  return [headPiece, ...pieces];
}

function isSum(row: TableRow): boolean {
  return row.style === 'subtotal' || row.style === 'total';
}

/** The first two rows stay together, and the last two: a row never stands alone under the head. */
function nearEnd(index: number, count: number): boolean {
  return index === 0 || index === count - 2;
}

interface TableTags {
  table: () => Tag;
  body: () => Tag;
}

/** Tags are opened when they are first painted, so that they stand in reading order. */
function tableTags(paper: Paper): TableTags {
  let table: Tag | null = null;
  let body: Tag | null = null;
  const openTable = (): Tag => (table ??= openTag(paper.doc, paper.root, 'Table'));
  return { table: openTable, body: () => (body ??= openTag(paper.doc, openTable(), 'TBody')) };
}

function captionAndHead(paper: Paper, table: TableBlock, layout: TableLayout, tags: TableTags): Piece {
  const captionLines = table.caption === '' ? [] : linesOf(paper, CAPTION, table.caption, paper.widthPt);
  const captionPt = captionLines.length === 0 ? 0 : captionLines.length * CAPTION.leading + 3;
  return {
    heightPt: captionPt + layout.headHeightPt,
    gapBeforePt: 12,
    keepWithNext: true,
    paint: (topPt) => {
      if (captionLines.length > 0) {
        paintTagged(paper.doc, tags.table(), 'Caption', () =>
          paintLines(paper, CAPTION, captionLines, { xPt: paper.leftPt, topPt }),
        );
      }
      const headTop = topPt + captionPt;
      paintArtifact(paper.doc, 'Layout', () => headRules(paper, layout, headTop));
      const head = openTag(paper.doc, tags.table(), 'THead');
      const headRow = openTag(paper.doc, head, 'TR');
      for (const column of layout.columns) {
        paintTagged(paper.doc, headRow, 'TH', () => paintHeadCell(paper, column, layout, headTop), {
          scope: 'Column',
        });
      }
      head.end();
    },
  };
}

function repeatedHead(paper: Paper, table: TableBlock, layout: TableLayout): NonNullable<Piece['repeated']> {
  const line =
    table.caption === '' ? [] : linesOf(paper, ASIDE, `${table.caption} (continued)`, paper.widthPt);
  const captionPt = line.length * ASIDE.leading + (line.length > 0 ? 3 : 0);
  return {
    heightPt: captionPt + layout.headHeightPt,
    paint: (topPt) =>
      paintArtifact(paper.doc, 'Pagination', () => {
        paintLines(paper, ASIDE, line, { xPt: paper.leftPt, topPt });
        headRules(paper, layout, topPt + captionPt);
        for (const column of layout.columns) paintHeadCell(paper, column, layout, topPt + captionPt);
      }),
  };
}

function headRules(paper: Paper, layout: TableLayout, topPt: number): void {
  const across = { fromPt: paper.leftPt, toPt: paper.leftPt + paper.widthPt, ink: INK };
  paintRule(paper, { ...across, yPt: topPt, thicknessPt: 0.9 });
  paintRule(paper, { ...across, yPt: topPt + layout.headHeightPt, thicknessPt: 0.45 });
}

function paintHeadCell(paper: Paper, column: ColumnLayout, layout: TableLayout, topPt: number): void {
  const { align, xPt, widthPt, headLines } = column;
  const bottom = topPt + layout.headHeightPt - ROW_PAD_PT;
  paintLines(paper, COLUMN_HEAD, headLines, {
    xPt: align === 'end' ? xPt + widthPt : xPt,
    topPt: bottom - headLines.length * COLUMN_HEAD.leading,
    align,
  });
}

function emptyPiece(paper: Paper, layout: TableLayout, tags: TableTags): Piece {
  return {
    heightPt: ASIDE.leading + 2 * ROW_PAD_PT,
    gapBeforePt: 0,
    keepWithNext: false,
    paint: (topPt) => {
      const row = openTag(paper.doc, tags.body(), 'TR');
      paintTagged(
        paper.doc,
        row,
        'TD',
        () => paintLine(paper, ASIDE, 'No entries.', { xPt: paper.leftPt, topPt: topPt + ROW_PAD_PT }),
        { columnSpan: layout.columns.length },
      );
    },
  };
}

function paintRow(paper: Paper, columns: ColumnLayout[], layout: RowLayout, topPt: number, body: Tag): void {
  const { row, style, cellLines, detailLines } = layout;
  paintArtifact(paper.doc, 'Layout', () => rowRules(paper, columns, layout, topPt));
  const textTop = topPt + ROW_PAD_PT + (row.style === 'section' ? 5 : 0);
  if (cellLines.length > 0) {
    const tag = openTag(paper.doc, body, 'TR');
    if (row.style === 'section') {
      const paint = () => paintLines(paper, style, cellLines[0] ?? [], { xPt: paper.leftPt, topPt: textTop });
      paintTagged(paper.doc, tag, 'TH', paint, { scope: 'Row', columnSpan: columns.length });
    } else {
      columns.forEach((column, index) => {
        const lines = cellLines[index] ?? [];
        const paint = lines.join('') === '' ? null : () => paintCell(paper, column, layout, lines, textTop);
        const head = index === 0 && column.align === 'start';
        paintTagged(paper.doc, tag, head ? 'TH' : 'TD', paint, head ? { scope: 'Row' } : {});
      });
    }
  }
  if (detailLines.length > 0) {
    const tag = openTag(paper.doc, body, 'TR');
    const lineCount = Math.max(0, ...cellLines.map((lines) => lines.length));
    const at = { xPt: paper.leftPt, topPt: textTop + lineCount * style.leading };
    paintTagged(paper.doc, tag, 'TD', () => paintLines(paper, DETAIL, detailLines, at), {
      columnSpan: columns.length,
    });
  }
}

function paintCell(
  paper: Paper,
  column: ColumnLayout,
  layout: RowLayout,
  lines: readonly string[],
  topPt: number,
): void {
  const { style } = layout;
  const right = column.xPt + column.widthPt;
  const figure = column.figures === null ? null : figureOf(lines[0] ?? '');
  if (column.figures === null || figure === null) {
    const xPt = column.align === 'end' ? right : column.xPt;
    paintLines(paper, style, lines, { xPt, topPt, align: column.align });
    return;
  }
  const { fractionPt, tailPt } = column.figures;
  const unitX = right - tailPt;
  const pointX = (tailPt > 0 ? unitX - UNIT_GAP_PT : right) - fractionPt;
  const number = figure.whole + figure.fraction;
  paintLine(paper, style, number, { xPt: pointX - textWidth(paper, style, figure.whole), topPt });
  if (figure.tail !== '')
    paintLine(paper, style, ` ${figure.tail}`, { xPt: unitX - textWidth(paper, style, ' '), topPt });
}

/** Boxes to write in, round every cell of a row. */
function boxRules(paper: Paper, columns: ColumnLayout[], { heightPt }: RowLayout, topPt: number): void {
  paper.doc.lineWidth(0.5);
  for (const { fromPt, toPt } of columns)
    paper.doc.rect(fromPt, topPt, toPt - fromPt, heightPt).stroke(MUTED);
}

/** A hairline under every row; a rule above a sum; a double rule under a total, as ledgers have it. */
function rowRules(paper: Paper, columns: ColumnLayout[], layout: RowLayout, topPt: number): void {
  const { row, heightPt } = layout;
  const across = { fromPt: paper.leftPt, toPt: paper.leftPt + paper.widthPt };
  const bottom = topPt + heightPt;
  if (row.style === 'plain' || row.style === 'subtotal') {
    paintRule(paper, { ...across, yPt: bottom, thicknessPt: 0.35, ink: RULE });
  }
  if (row.style === 'section') paintRule(paper, { ...across, yPt: bottom, thicknessPt: 0.35, ink: INK });
  if (row.style === 'subtotal') {
    for (const column of columns) {
      if (column.align === 'start' || (row.cells[column.key] ?? '') === '') continue;
      const toPt = column.xPt + column.widthPt;
      const rulePt = column.figures === null ? column.widthPt : figureColumnWidthPt(column.figures);
      paintRule(paper, { fromPt: toPt - rulePt, toPt, yPt: topPt, thicknessPt: 0.6, ink: INK });
    }
  }
  if (row.style === 'total') {
    paintRule(paper, { ...across, yPt: topPt, thicknessPt: 0.8, ink: INK });
    const foot = bottom - TOTAL_FOOT_PT + 2;
    paintRule(paper, { ...across, yPt: foot, thicknessPt: 0.5, ink: INK });
    paintRule(paper, { ...across, yPt: foot + 1.8, thicknessPt: 0.5, ink: INK });
  }
}
