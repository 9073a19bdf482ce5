import { INK, RULE } from './palette.ts';
import { linesOf, paintLine, paintRule, type Paper } from './paper.ts';
import { paintArtifact } from './tags.ts';
import { RUNNING, RUNNING_BOLD, type TypeStyle } from './type-styles.ts';

export type PageSize = 'A4' | 'Letter';

/** Width and height in points: ISO 216 A4 (210 × 297 mm); ANSI Y14.1 A (8½ × 11 in). */
export const PAGE_SIZES_PT: Record<PageSize, [number, number]> = {
  A4: [595.28, 841.89],
  Letter: [612, 792],
};

export const SIDE_PT = 54;
const HEAD_TOP_PT = 32;
const DEMO_PT = 14;
const FOOT_PT = 40;
/** Head and foot never grow beyond this many lines; what is longer ends in dots. */
const NOTICE_LINES = 2;

/** Where the text of a page starts and ends. */
export function bodyBoundsPt(pageHeightPt: number, noticeLines: number): { topPt: number; bottomPt: number } {
  const notice = noticeLines === 0 ? 0 : noticeLines * RUNNING_BOLD.leading + DEMO_PT - 4;
  return { topPt: HEAD_TOP_PT + 24 + notice, bottomPt: pageHeightPt - FOOT_PT - 22 };
}

/** The notice of an invented document, broken for the head of a page. */
export function noticeLinesOf(paper: Paper, notice: string | null): readonly string[] {
  if (notice === null) return [];
  const lines = linesOf(paper, RUNNING_BOLD, notice, paper.widthPt - 16);
  return lines.length <= NOTICE_LINES
    ? lines
    : [...lines.slice(0, NOTICE_LINES - 1), `${lines[NOTICE_LINES - 1] ?? ''}…`];
}

/** Head and foot of one page; neither belongs to the text. */
export function paintFrame(
  paper: Paper,
  frame: {
    heightPt: number;
    runningHead: string;
    title: string;
    noticeLines: readonly string[];
    madeOn: string;
    page: number;
    pageCount: number;
  },
): void {
  const { leftPt, widthPt } = paper;
  const right = leftPt + widthPt;
  const across = { fromPt: leftPt, toPt: right };
  paintArtifact(paper.doc, 'Pagination', () => {
    const third = widthPt / 2 - 10;
    const topPt = HEAD_TOP_PT;
    paintLine(paper, RUNNING_BOLD, oneLine(paper, RUNNING_BOLD, frame.runningHead, third), {
      xPt: leftPt,
      topPt,
    });
    paintLine(paper, RUNNING, oneLine(paper, RUNNING, frame.title, third), {
      xPt: right,
      topPt,
      align: 'end',
    });
    paintRule(paper, { ...across, yPt: topPt + 12, thicknessPt: 0.5, ink: INK });
    if (frame.noticeLines.length > 0) {
      const boxTop = topPt + 16;
      const boxPt = frame.noticeLines.length * RUNNING_BOLD.leading + 4;
      paper.doc.lineWidth(0.5).rect(leftPt, boxTop, widthPt, boxPt).stroke(INK);
      frame.noticeLines.forEach((line, index) => {
        const lineTop = boxTop + 2 + index * RUNNING_BOLD.leading;
        paintLine(paper, RUNNING_BOLD, line, { xPt: leftPt + widthPt / 2, topPt: lineTop, align: 'middle' });
      });
    }
    const footTop = frame.heightPt - FOOT_PT;
    paintRule(paper, { ...across, yPt: footTop - 4, thicknessPt: 0.5, ink: RULE });
    const page = `Page ${frame.page} of ${frame.pageCount}`;
    paintLine(paper, RUNNING_BOLD, page, { xPt: right, topPt: footTop, align: 'end' });
    const number = oneLine(paper, RUNNING, frame.runningHead, widthPt * 0.6 - 10);
    paintLine(paper, RUNNING, number, { xPt: leftPt, topPt: footTop });
    const made = `Made ${frame.madeOn}`;
    paintLine(paper, RUNNING, made, { xPt: leftPt + widthPt * 0.6, topPt: footTop });
  });
}

/** One line for the head or foot: what does not fit ends in dots; the full text stands on the first page. */
function oneLine(paper: Paper, style: TypeStyle, text: string, widthPt: number): string {
  const lines = linesOf(paper, style, text.replaceAll('\n', ' '), widthPt - 6);
  return lines.length > 1 ? `${lines[0] ?? ''}…` : (lines[0] ?? '');
}
