import type { Piece } from './flow.ts';
import { INK } from './palette.ts';
import { linesOf, paintLine, paintLines, type Paper } from './paper.ts';
import { openTag, paintArtifact, paintTagged, type Tag } from './tags.ts';
import { BODY, BODY_BOLD } from './type-styles.ts';

const BOX_PT = 8.5;
const NUMBER_PT = BOX_PT + 9;
const TEXT_PT = NUMBER_PT + 20;
const PAD_PT = 2;

/** Numbered steps, each with a box to tick; a step is never parted. */
export function stepPieces(paper: Paper, steps: string[]): Piece[] {
  let list: Tag | null = null;
  return steps.map((step, index) => {
    const lines = linesOf(paper, BODY, step, Math.min(paper.widthPt, 480) - TEXT_PT);
    return {
      heightPt: lines.length * BODY.leading + 2 * PAD_PT,
      gapBeforePt: index === 0 ? 8 : 0,
      keepWithNext: index === 0 && steps.length > 1,
      paint: (topPt) => {
        const top = topPt + PAD_PT;
        paintArtifact(paper.doc, 'Layout', () => {
          const boxTop = top + (BODY.leading - BOX_PT) / 2;
          paper.doc.lineWidth(0.6).rect(paper.leftPt, boxTop, BOX_PT, BOX_PT).stroke(INK);
        });
        list ??= openTag(paper.doc, paper.root, 'L');
        const item = openTag(paper.doc, list, 'LI');
        paintTagged(paper.doc, item, 'Lbl', () =>
          paintLine(paper, BODY_BOLD, `${index + 1}`, {
            xPt: paper.leftPt + NUMBER_PT + 12,
            topPt: top,
            align: 'end',
          }),
        );
        paintTagged(paper.doc, item, 'LBody', () =>
          paintLines(paper, BODY, lines, { xPt: paper.leftPt + TEXT_PT, topPt: top }),
        );
      },
    };
  });
}
