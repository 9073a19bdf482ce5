import { deflateSync } from 'node:zlib';
import type { FontName } from './fonts.ts';
import type { ReadFont } from './kept-fonts.ts';

/** What pdfkit makes of a font for one document; not in its published types. */
interface EmbeddedFont {
  font: ReadFont & { glyphForCodePoint: (codePoint: number) => Glyph };
  scale: number;
  widths: number[];
  unicode: number[][];
  subset: { glyphs: number[]; includeGlyph: (glyphId: number) => number; encode: () => Uint8Array };
  embed: () => void;
}

interface Glyph {
  id: number;
  advanceWidth: number;
}

type WithRef = Omit<PDFKit.PDFDocument, 'ref'> & { ref: (data?: Record<string, unknown>) => unknown };

const SIGNS = '0123456789 .,:;()/%+=-\u2212\u00d7\u00f7\u00b7\u2013\u2019abcdefghijklmnopqrstuvwxyz';
const CAPITALS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';
/** Every document embeds these first, in this order, so that most documents embed the same part of a font. */
const COMMON_SIGNS: Record<FontName, string> = {
  regular: SIGNS + CAPITALS,
  bold: SIGNS + CAPITALS,
  italic: SIGNS,
  heading: SIGNS,
};

/** Documents in writing that never ends bring ever new signs; beyond so many parts of fonts they are cut out anew. */
const MOST_PARTS = 60;
const parts = new Map<string, Uint8Array>();

/**
 * Has the document's font in use begin with the common signs, and takes the part of the font that is embedded from
 * where it was kept: cutting it out and packing it took a third of the time of a statement. The part depends on the
 * document alone, never on what was printed before.
 */
export function shareEmbedding(doc: PDFKit.PDFDocument, name: FontName): void {
  const embedded = (doc as unknown as { _font: EmbeddedFont })._font;
  for (const sign of COMMON_SIGNS[name]) {
    const codePoint = sign.codePointAt(0) ?? 0;
    const glyph = embedded.font.glyphForCodePoint(codePoint);
    const at = embedded.subset.includeGlyph(glyph.id);
    embedded.widths[at] ??= glyph.advanceWidth * embedded.scale;
    embedded.unicode[at] ??= [codePoint];
  }
  const cutOut = embedded.subset.encode.bind(embedded.subset);
  const embed = embedded.embed.bind(embedded);
  const withRef = doc as unknown as WithRef;
  embedded.subset.encode = () => {
    const key = `${name} ${embedded.subset.glyphs.join(' ')}`;
    const known = parts.get(key) ?? deflateSync(cutOut());
    if (parts.size >= MOST_PARTS) parts.clear();
    parts.set(key, known);
    return known;
  };
  embedded.embed = () => {
    const ref = withRef.ref.bind(doc);
    // The first thing that embedding writes is the part of the font, which is packed already.
    withRef.ref = (data) => {
      withRef.ref = ref;
      return ref({ ...data, Filter: 'FlateDecode' });
    };
    embed();
  };
}
