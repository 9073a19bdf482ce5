import { existsSync, readFileSync } from 'node:fs';
import PDFDocument from 'pdfkit';

/** A word as it is laid out: its glyphs, and where each stands. */
interface Run {
  glyphs: unknown[];
  positions: object[];
}

/** What pdfkit has read of a font; it takes that in place of the file again. Not in its published types. */
export interface ReadFont {
  layout: (text: string) => Run;
  hasGlyphForCodePoint: (codePoint: number) => boolean;
  /** Widths of words at a size of 1000, each with the space behind it where it has one; kept by us. */
  widths: Map<string, number>;
  /** Glyphs met so far, each with the signs of the text in which it was met first. */
  _glyphs: Record<number, unknown>;
}

/** What pdfkit holds of the font in use; not in its published types. */
export interface WithReadFont {
  _font: { font: ReadFont };
}

/** Statements share most of their words; beyond these the words are forgotten and laid out anew. */
export const MOST_WORDS = 20_000;

const kept = new Map<string, ReadFont>();

/**
 * The font of a file, read once for all documents, because reading fonts and laying out words took most of the
 * time of a document. Throws where there is no such file.
 */
export function keptFont(path: string): ReadFont {
  const known = kept.get(path);
  if (known !== undefined) return known;
  if (!existsSync(path)) throw new Error(`The font ${path} is missing; nothing can be printed without it.`);
  const reader = new PDFDocument({ font: '', autoFirstPage: false }).font(readFileSync(path));
  const { font } = (reader as unknown as WithReadFont)._font;
  keepWords(font);
  kept.set(path, font);
  return font;
}

/** Makes a font remember how words are laid out. A word comes out the same whatever was printed before it. */
function keepWords(font: ReadFont): void {
  const layOut = font.layout.bind(font);
  const words = new Map<string, Run>();
  font.widths = new Map();
  font.layout = (text) => {
    let run = words.get(text);
    if (run === undefined) {
      font._glyphs = {};
      run = layOut(text);
      if (words.size >= MOST_WORDS) words.clear();
      words.set(text, run);
    }
    return ownRun(run);
  };
  const hasGlyph = font.hasGlyphForCodePoint.bind(font);
  const drawn = new Map<number, boolean>();
  font.hasGlyphForCodePoint = (codePoint) => {
    const known = drawn.get(codePoint) ?? hasGlyph(codePoint);
    drawn.set(codePoint, known);
    return known;
  };
}

/** A copy whose positions may be scaled, as pdfkit does to what it gets. */
function ownRun(run: Run): Run {
  const copy = Object.create(Object.getPrototypeOf(run) as object) as Run;
  return Object.assign(copy, run, { positions: run.positions.map((position) => ({ ...position })) });
}
