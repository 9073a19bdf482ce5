import type { FontName } from './fonts.ts';
import { printable } from './fonts.ts';
import { MOST_WORDS, type WithReadFont } from './kept-fonts.ts';
import type { Tag } from './tags.ts';
import type { TypeStyle } from './type-styles.ts';
import { wrapText } from './wrap.ts';

/** The sheet that a report is painted on: the document, its measures, and the signs that its fonts lacked. */
export interface Paper {
  doc: PDFKit.PDFDocument;
  /** The root of the structure tree. */
  root: Tag;
  leftPt: number;
  widthPt: number;
  /** Height between head and foot of a page. */
  bodyHeightPt: number;
  missingSigns: Set<string>;
}

/** What pdfkit paints one line with; not in its published types. */
interface PaintsFragments {
  _fragment: (
    text: string,
    xPt: number,
    yPt: number,
    options: { baseline: 'alphabetic'; textWidth: number; wordCount: number },
  ) => void;
}

/** Text as the style's font can print it. */
export function cleaned(paper: Paper, font: FontName, text: string): string {
  return printable(paper.doc, font, text, (sign) => paper.missingSigns.add(sign));
}

/** Width of one line of text in points: word by word, as pdfkit adds it up, each word measured once for all documents. */
export function textWidth({ doc }: Paper, style: TypeStyle, text: string): number {
  doc.font(style.font).fontSize(style.size);
  const { widths } = (doc as unknown as WithReadFont)._font.font;
  let width = 0;
  for (let from = 0; from < text.length;) {
    const space = text.indexOf(' ', from);
    const to = space < 0 ? text.length : space + 1;
    const word = text.slice(from, to);
    width += widths.get(word) ?? measured(doc, widths, word, style.size);
    from = to;
  }
  return (width * style.size) / 1000;
}

/** Width of a word at a size of 1000, at which pdfkit gives it without rounding. */
function measured(
  doc: PDFKit.PDFDocument,
  widths: Map<string, number>,
  word: string,
  sizeInUse: number,
): number {
  const width = doc.fontSize(1000).widthOfString(word);
  doc.fontSize(sizeInUse);
  if (widths.size >= MOST_WORDS) widths.clear();
  widths.set(word, width);
  return width;
}

/** Documents share most of their texts; beyond these they are broken anew. */
const MOST_TEXTS = 5000;
/** Lines of texts as they were broken, with the signs that the font lacked, by font, size, width and text. */
const kept = new Map<string, { lines: string[]; missing: string[] }>();

/** Text cleaned and broken into lines for a width: most of it stands in other documents as well, and is broken once. */
export function linesOf(paper: Paper, style: TypeStyle, text: string, widthPt: number): readonly string[] {
  const key = `${style.font} ${style.size} ${widthPt} ${text}`;
  const found = kept.get(key) ?? broken(paper, style, text, widthPt);
  if (kept.size >= MOST_TEXTS) kept.clear();
  kept.set(key, found);
  for (const sign of found.missing) paper.missingSigns.add(sign);
  return found.lines;
}

function broken({ doc, ...paper }: Paper, style: TypeStyle, text: string, widthPt: number) {
  const missing: string[] = [];
  const clean = printable(doc, style.font, text, (sign) => missing.push(sign));
  return { lines: wrapText(clean, widthPt, (part) => textWidth({ doc, ...paper }, style, part)), missing };
}

/** Paints one line with its left or right end at `xPt`; `topPt` is the top of its leading. */
export function paintLine(
  paper: Paper,
  style: TypeStyle,
  line: string,
  at: { xPt: number; topPt: number; align?: 'start' | 'end' | 'middle' },
): void {
  if (line === '') return;
  const { doc } = paper;
  const width = at.align === 'end' || at.align === 'middle' ? textWidth(paper, style, line) : 0;
  const shift = at.align === 'middle' ? width / 2 : width;
  const baseline = at.topPt + (style.leading - style.size) / 2 + style.size * 0.8;
  doc.font(style.font).fontSize(style.size).fillColor(style.ink);
  // pdfkit would measure the line twice more, to underline it and to go on behind it; nothing here does.
  (doc as unknown as PaintsFragments)._fragment(line, at.xPt - shift, baseline, {
    baseline: 'alphabetic',
    textWidth: 0,
    wordCount: 0,
  });
}

/** Paints lines one below the other; each but the last keeps a space at its end, so that copied words do not run together. */
export function paintLines(
  paper: Paper,
  style: TypeStyle,
  lines: readonly string[],
  at: { xPt: number; topPt: number; align?: 'start' | 'end' },
): void {
  lines.forEach((line, index) => {
    const text = at.align !== 'end' && index < lines.length - 1 ? `${line} ` : line;
    paintLine(paper, style, text, { ...at, topPt: at.topPt + index * style.leading });
  });
}

/** Paints a level rule. */
export function paintRule(
  paper: Paper,
  rule: { fromPt: number; toPt: number; yPt: number; thicknessPt: number; ink: string },
): void {
  paper.doc
    .lineWidth(rule.thicknessPt)
    .moveTo(rule.fromPt, rule.yPt)
    .lineTo(rule.toPt, rule.yPt)
    .stroke(rule.ink);
}
