import { existsSync, readFileSync } from 'node:fs';
import PDFDocument from 'pdfkit';
import { figureLayout } from './figure-layout.ts';

/** Where a glyph stands, and how far it moves what follows; in units of the font. */
export interface GlyphPosition {
  xAdvance: number;
  yAdvance: number;
  xOffset: number;
  yOffset: number;
}

/** A word as it is laid out: its glyphs, and where each stands. */
export interface Run {
  glyphs: unknown[];
  positions: GlyphPosition[];
  readonly advanceWidth: number;
}

/** What pdfkit has read of a font; it takes that in place of the file again. Not in its published types. */
export interface ReadFont {
  layout: (text: string) => Run;
  hasGlyphForCodePoint: (codePoint: number) => boolean;
  /** Widths of words at a size of 1000, each with the space behind it where it has one; kept by us. */
  widths: Map<string, number>;
  /** Words as pdfkit keeps them for a document, laid out and scaled; kept by us for all documents. */
  words: Record<string, Run>;
  /** Glyphs met so far, each with the signs of the text in which it was met first. */
  _glyphs: Record<number, unknown>;
}

/** What pdfkit holds of the font in use; not in its published types. */
export interface WithReadFont {
  _font: { font: ReadFont; layoutCache: Record<string, Run> };
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

/** Gives the document's font in use the words that earlier documents laid out. */
export function shareWords(doc: PDFKit.PDFDocument): void {
  const { _font } = doc as unknown as WithReadFont;
  _font.layoutCache = _font.font.words;
}

const emptyWords = () => Object.create(null) as Record<string, Run>;

/** Makes a font remember how words are laid out. A word comes out the same whatever was printed before it. */
function keepWords(font: ReadFont): void {
  const layOut = font.layout.bind(font);
  const layOutAlone = (text: string): Run => {
    font._glyphs = {};
    return layOut(text);
  };
  const layOutFigure = figureLayout(layOutAlone);
  let count = 0;
  font.widths = new Map();
  font.words = emptyWords();
  font.layout = (text) => {
    count += 1;
    if (count > MOST_WORDS) {
      // Documents that are being painted keep those they began with.
      font.words = emptyWords();
      count = 0;
    }
    return layOutFigure(text) ?? layOutAlone(text);
  };
  const hasGlyph = font.hasGlyphForCodePoint.bind(font);
  const drawn = new Map<number, boolean>();
  font.hasGlyphForCodePoint = (codePoint) => {
    const known = drawn.get(codePoint) ?? hasGlyph(codePoint);
    drawn.set(codePoint, known);
    return known;
  };
}
