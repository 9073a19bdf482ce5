import type { GlyphPosition, Run } from './kept-fonts.ts';

/** Figures, dates and the signs of arithmetic, with the space behind them where they have one. */
const FIGURE = /^[0-9.,:()+\-\u2212\u00d7\u00f7=%]+ ?$/;

/** A sign, and where it stands before the one that follows it. */
interface Placed {
  glyph: unknown;
  position: GlyphPosition;
}

/**
 * Lays out figures from pairs of signs. Every statement brings figures that were never printed, and laying a word
 * out by all the rules of a font takes long; between figures the only rule of our fonts is the kerning of pairs.
 * Gives null for other text, and where a sign is not one glyph.
 */
export function figureLayout(layOut: (text: string) => Run): (text: string) => Run | null {
  const pairs = new Map<string, Placed | null>();
  const placed = (sign: string, next: string): Placed | null => {
    const known = pairs.get(sign + next);
    if (known !== undefined) return known;
    const { glyphs, positions } = layOut(sign + next);
    const [position] = positions;
    const isSimple = glyphs.length === sign.length + next.length && position !== undefined;
    const found = isSimple ? { glyph: glyphs[0], position: { ...position } } : null;
    pairs.set(sign + next, found);
    return found;
  };
  return (text) => {
    if (!FIGURE.test(text)) return null;
    const glyphs: unknown[] = [];
    const positions: GlyphPosition[] = [];
    for (let index = 0; index < text.length; index += 1) {
      const found = placed(text.charAt(index), text.charAt(index + 1));
      if (found === null) return null;
      glyphs.push(found.glyph);
      positions.push({ ...found.position });
    }
    return {
      glyphs,
      positions,
      get advanceWidth() {
        return positions.reduce((sum, { xAdvance }) => sum + xAdvance, 0);
      },
    };
  };
}
