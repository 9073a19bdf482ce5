import type { Mark, Scene } from '../charts/scene.ts';
import { cleaned, linesOf, paintLines, type Paper } from './paper.ts';
import type { Piece } from './flow.ts';
import { ROLE_INK } from './palette.ts';
import { paintTagged } from './tags.ts';
import { CAPTION } from './type-styles.ts';

const GAP_PT = 3;

/** A chart under its title: as large as drawn, smaller where the page is. */
export function scenePieces(paper: Paper, scene: Scene): Piece[] {
  const titleLines = linesOf(paper, CAPTION, scene.title, paper.widthPt);
  const titlePt = titleLines.length * CAPTION.leading;
  const roomPt = paper.bodyHeightPt - titlePt - GAP_PT;
  const scale = Math.min(1, paper.widthPt / scene.width, roomPt / scene.height);
  const heightPt = scene.height * scale;
  const xPt = paper.leftPt + (paper.widthPt - scene.width * scale) / 2;
  return [
    {
      heightPt: titlePt,
      gapBeforePt: 12,
      keepWithNext: true,
      paint: (topPt) =>
        paintTagged(paper.doc, paper.root, 'P', () =>
          paintLines(paper, CAPTION, titleLines, { xPt: paper.leftPt, topPt }),
        ),
    },
    {
      heightPt,
      gapBeforePt: GAP_PT,
      keepWithNext: false,
      paint: (topPt) =>
        paintTagged(paper.doc, paper.root, 'Figure', () => paintScene(paper, scene, { xPt, topPt, scale }), {
          alt: `${scene.title}. ${scene.description}`,
          boundsPt: [xPt, topPt, xPt + scene.width * scale, topPt + heightPt],
        }),
    },
  ];
}

function paintScene(paper: Paper, scene: Scene, at: { xPt: number; topPt: number; scale: number }): void {
  const { doc } = paper;
  doc.save();
  doc.translate(at.xPt, at.topPt).scale(at.scale);
  for (const mark of scene.marks) {
    doc.save();
    paintMark(paper, mark);
    doc.restore();
  }
  doc.restore();
}

function paintMark(paper: Paper, mark: Mark): void {
  const { doc } = paper;
  const ink = ROLE_INK[mark.role];
  switch (mark.kind) {
    case 'line':
      setDash(doc, mark.dash);
      doc.lineWidth(mark.width).moveTo(mark.x1, mark.y1).lineTo(mark.x2, mark.y2).stroke(ink);
      return;
    case 'rect':
      paintRect(doc, mark, ink);
      return;
    case 'circle':
      doc.circle(mark.x, mark.y, mark.radius).lineWidth(1);
      if (mark.filled) doc.fill(ink);
      else doc.stroke(ink);
      return;
    case 'path':
      setDash(doc, mark.dash);
      doc.path(mark.d).lineWidth(mark.width).lineJoin('round');
      if (mark.filled) doc.fill(ink);
      else doc.stroke(ink);
      return;
    case 'text':
      paintText(paper, mark, ink);
  }
}

/** Dashes of any number of parts, as the scene gives them (ISO 32000-1:2008, 8.4.3.6). */
function setDash(doc: PDFKit.PDFDocument, dash: number[] | undefined): void {
  if (dash !== undefined && dash.length > 0) doc.addContent(`[${dash.join(' ')}] 0 d`);
}

const HATCH_STEP_PT = 3.2;

function paintRect(doc: PDFKit.PDFDocument, mark: Extract<Mark, { kind: 'rect' }>, ink: string): void {
  const { x, y, width, height } = mark;
  if (mark.hatched === true) {
    doc.save().rect(x, y, width, height).clip().lineWidth(0.7);
    for (let from = x - height; from < x + width; from += HATCH_STEP_PT) {
      doc.moveTo(from, y + height).lineTo(from + height, y);
    }
    doc.stroke(ink).restore();
    doc.rect(x, y, width, height).lineWidth(0.7).stroke(ink);
  } else if (mark.filled) doc.rect(x, y, width, height).fill(ink);
  else doc.rect(x, y, width, height).lineWidth(0.8).stroke(ink);
}

function paintText(paper: Paper, mark: Extract<Mark, { kind: 'text' }>, ink: string): void {
  const { doc } = paper;
  const font = mark.bold === true ? 'bold' : 'regular';
  const text = cleaned(paper, font, mark.text);
  doc.font(font).fontSize(mark.sizePt).fillColor(ink);
  const width = doc.widthOfString(text);
  const shift = { start: 0, middle: width / 2, end: width }[mark.anchor];
  doc.text(text, mark.x - shift, mark.y, { lineBreak: false, baseline: 'alphabetic' });
}
