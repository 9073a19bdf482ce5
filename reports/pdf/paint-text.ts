import type { Piece } from './flow.ts';
import { INK, OXIDE } from './palette.ts';
import { linesOf, paintLine, paintLines, paintRule, textWidth, type Paper } from './paper.ts';
import { openTag, paintArtifact, paintTagged } from './tags.ts';
import { BODY, HEADING, LEAD, LEVEL_WORD, SUBTITLE, TITLE, type TypeStyle } from './type-styles.ts';

/** The report's title with the rule under it: thick and thin, as on the first page of a ledger. */
export function titlePieces(paper: Paper, title: string, subtitle: string): Piece[] {
  const titleLines = linesOf(paper, TITLE, title, paper.widthPt);
  const subtitleLines = subtitle === '' ? [] : linesOf(paper, SUBTITLE, subtitle, paper.widthPt);
  const titlePt = titleLines.length * TITLE.leading;
  const heightPt = titlePt + subtitleLines.length * SUBTITLE.leading + 9;
  return [
    {
      heightPt,
      gapBeforePt: 0,
      keepWithNext: true,
      paint: (topPt) => {
        paintTagged(paper.doc, paper.root, 'H1', () =>
          paintLines(paper, TITLE, titleLines, { xPt: paper.leftPt, topPt }),
        );
        if (subtitleLines.length > 0) {
          paintTagged(paper.doc, paper.root, 'P', () =>
            paintLines(paper, SUBTITLE, subtitleLines, { xPt: paper.leftPt, topPt: topPt + titlePt }),
          );
        }
        paintArtifact(paper.doc, 'Layout', () => {
          const across = { fromPt: paper.leftPt, toPt: paper.leftPt + paper.widthPt, ink: INK };
          paintRule(paper, { ...across, yPt: topPt + heightPt - 3, thicknessPt: 1.6 });
          paintRule(paper, { ...across, yPt: topPt + heightPt - 0.6, thicknessPt: 0.4 });
        });
      },
    },
  ];
}

export function headingPieces(paper: Paper, text: string): Piece[] {
  const lines = linesOf(paper, HEADING, text, paper.widthPt);
  return [
    {
      heightPt: lines.length * HEADING.leading,
      gapBeforePt: 20,
      keepWithNext: true,
      paint: (topPt) =>
        paintTagged(paper.doc, paper.root, 'H2', () =>
          paintLines(paper, HEADING, lines, { xPt: paper.leftPt, topPt }),
        ),
    },
  ];
}

export function leadPieces(paper: Paper, text: string): Piece[] {
  return runningText(paper, LEAD, text, 12);
}

export function paragraphPieces(paper: Paper, text: string): Piece[] {
  return runningText(paper, BODY, text, 7);
}

/** Text that may run over a page's end, but never with a single line on either side. */
function runningText(paper: Paper, style: TypeStyle, text: string, gapBeforePt: number): Piece[] {
  const lines = linesOf(paper, style, text, Math.min(paper.widthPt, 62 * style.size * 0.74));
  let tag: ReturnType<typeof openTag> | null = null;
  return lines.map((line, index) => ({
    heightPt: style.leading,
    gapBeforePt: index === 0 ? gapBeforePt : 0,
    keepWithNext: index < lines.length - 1 && (index === 0 || index === lines.length - 2),
    paint: (topPt) => {
      tag ??= openTag(paper.doc, paper.root, 'P');
      const printed = index < lines.length - 1 ? `${line} ` : line;
      tag.add(() => paintLine(paper, style, printed, { xPt: paper.leftPt, topPt }));
    },
  }));
}

const NOTICE_PAD_PT = 8;
const LEVEL_WORDS = { note: 'NOTE', warning: 'WARNING', caution: 'CAUTION' } as const;

/** A boxed notice; its level is a word. A notice higher than a page goes on in a second box. */
export function noticePieces(paper: Paper, level: keyof typeof LEVEL_WORDS, text: string): Piece[] {
  const word = LEVEL_WORDS[level];
  const style = { ...LEVEL_WORD, ink: level === 'note' ? INK : OXIDE };
  const wordPt = Math.max(...Object.values(LEVEL_WORDS).map((each) => textWidth(paper, style, each)));
  const textX = paper.leftPt + NOTICE_PAD_PT + 4 + wordPt + 10;
  const lines = linesOf(paper, BODY, text, paper.leftPt + paper.widthPt - NOTICE_PAD_PT - textX);
  const perBox = Math.max(1, Math.floor((paper.bodyHeightPt - 2 * NOTICE_PAD_PT) / BODY.leading));
  const boxes: (readonly string[])[] = [];
  for (let from = 0; from < lines.length; from += perBox) boxes.push(lines.slice(from, from + perBox));
  return boxes.map((boxLines, index) => {
    const heightPt = boxLines.length * BODY.leading + 2 * NOTICE_PAD_PT - 3;
    return {
      heightPt,
      gapBeforePt: 9,
      keepWithNext: false,
      paint: (topPt) => {
        paintArtifact(paper.doc, 'Layout', () => noticeBox(paper, topPt, heightPt, style.ink));
        const tag = openTag(paper.doc, paper.root, 'Div');
        const textTop = topPt + NOTICE_PAD_PT - 1.5;
        if (index === 0) {
          paintTagged(paper.doc, tag, 'P', () =>
            paintLine(paper, style, word, { xPt: paper.leftPt + NOTICE_PAD_PT + 4, topPt: textTop }),
          );
        }
        paintTagged(paper.doc, tag, 'P', () =>
          paintLines(paper, BODY, boxLines, { xPt: textX, topPt: textTop }),
        );
      },
    };
  });
}

function noticeBox(paper: Paper, topPt: number, heightPt: number, ink: string): void {
  const { doc, leftPt, widthPt } = paper;
  doc.lineWidth(0.6).rect(leftPt, topPt, widthPt, heightPt).stroke(ink);
  doc.rect(leftPt, topPt, 3, heightPt).fill(ink);
}
