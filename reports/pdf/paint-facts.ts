import type { Piece } from './flow.ts';
import { RULE } from './palette.ts';
import { linesOf, paintLines, paintRule, type Paper } from './paper.ts';
import { openTag, paintArtifact, paintTagged, type Tag } from './tags.ts';
import { BODY, LABEL } from './type-styles.ts';

const GAP_PT = 18;
const PAD_PT = 3;

/** Facts, two beside each other, each label above its value; a long value is never cut, the row grows. */
export function factsPieces(paper: Paper, facts: { label: string; value: string }[]): Piece[] {
  const columnPt = (paper.widthPt - GAP_PT) / 2;
  const cells = facts.map((fact, index) => ({
    labelLines: linesOf(paper, LABEL, fact.label, columnPt),
    valueLines: linesOf(paper, BODY, fact.value, columnPt),
    xPt: paper.leftPt + (index % 2) * (columnPt + GAP_PT),
  }));
  let list: Tag | null = null;
  const pieces: Piece[] = [];
  for (let index = 0; index < cells.length; index += 2) {
    const pair = cells.slice(index, index + 2);
    const textPt = Math.max(
      ...pair.map((cell) => cell.labelLines.length * LABEL.leading + cell.valueLines.length * BODY.leading),
    );
    const heightPt = textPt + 2 * PAD_PT;
    pieces.push({
      heightPt,
      gapBeforePt: index === 0 ? 10 : 0,
      keepWithNext: index === 0 && cells.length > 2,
      paint: (topPt) => {
        list ??= openTag(paper.doc, paper.root, 'L');
        for (const cell of pair) {
          const item = openTag(paper.doc, list, 'LI');
          const at = { xPt: cell.xPt, topPt: topPt + PAD_PT };
          paintTagged(paper.doc, item, 'Lbl', () => paintLines(paper, LABEL, cell.labelLines, at));
          const valueTop = at.topPt + cell.labelLines.length * LABEL.leading;
          paintTagged(paper.doc, item, 'LBody', () =>
            paintLines(paper, BODY, cell.valueLines, { ...at, topPt: valueTop }),
          );
        }
        paintArtifact(paper.doc, 'Layout', () => {
          for (const cell of pair) {
            const { xPt } = cell;
            const yPt = topPt + heightPt;
            paintRule(paper, { fromPt: xPt, toPt: xPt + columnPt, yPt, thicknessPt: 0.35, ink: RULE });
          }
        });
      },
    });
  }
  return pieces;
}
