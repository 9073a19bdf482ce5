import type { Piece } from './flow.ts';
import { INK } from './palette.ts';
import { linesOf, paintLine, paintLines, paintRule, type Paper } from './paper.ts';
import { openTag, paintArtifact, paintTagged } from './tags.ts';
import { BODY_BOLD, LABEL } from './type-styles.ts';

const GAP_PT = 28;
const LINES = ['Signature', 'Name and position', 'Date'];
const LINE_STEP_PT = 34;

/** Places to sign, two parties beside each other; the block is kept on one page where it fits one. */
export function signaturePieces(paper: Paper, parties: string[]): Piece[] {
  const columnPt = (paper.widthPt - GAP_PT) / 2;
  const rows: string[][] = [];
  for (let index = 0; index < parties.length; index += 2) rows.push(parties.slice(index, index + 2));
  return rows.map((pair, rowIndex) => {
    const names = pair.map((party) => linesOf(paper, BODY_BOLD, `For ${party}`, columnPt));
    const namePt = Math.max(...names.map((lines) => lines.length)) * BODY_BOLD.leading;
    return {
      heightPt: namePt + LINES.length * LINE_STEP_PT + 4,
      gapBeforePt: 18,
      keepWithNext: rowIndex < rows.length - 1,
      paint: (topPt) =>
        names.forEach((lines, index) => {
          const xPt = paper.leftPt + index * (columnPt + GAP_PT);
          const tag = openTag(paper.doc, paper.root, 'Div');
          paintTagged(paper.doc, tag, 'P', () => paintLines(paper, BODY_BOLD, lines, { xPt, topPt }));
          LINES.forEach((label, step) => {
            const yPt = topPt + namePt + (step + 1) * LINE_STEP_PT - 10;
            paintArtifact(paper.doc, 'Layout', () =>
              paintRule(paper, { fromPt: xPt, toPt: xPt + columnPt, yPt, thicknessPt: 0.5, ink: INK }),
            );
            paintTagged(paper.doc, tag, 'P', () => paintLine(paper, LABEL, label, { xPt, topPt: yPt + 1 }));
          });
        }),
    };
  });
}
