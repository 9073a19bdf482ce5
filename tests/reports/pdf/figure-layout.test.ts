import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import PDFDocument from 'pdfkit';
import { describe, expect, it } from 'vitest';
import { figureLayout } from '../../../reports/pdf/figure-layout.ts';
import { findFontsDir } from '../../../reports/pdf/fonts.ts';
import type { Run, WithReadFont } from '../../../reports/pdf/kept-fonts.ts';

const figures = fc
  .tuple(
    fc.string({ unit: fc.constantFrom(...Array.from('0123456789.,:()+-−×÷=%')), minLength: 1 }),
    fc.boolean(),
  )
  .map(([text, withSpace]) => (withSpace ? `${text} ` : text));

const laidOut = ({ glyphs, positions, advanceWidth }: Run) => ({
  glyphs: (glyphs as { id: number; codePoints: number[] }[]).map(({ id, codePoints }) => [id, codePoints]),
  positions: positions.map(({ xAdvance, yAdvance, xOffset, yOffset }) => [
    xAdvance,
    yAdvance,
    xOffset,
    yOffset,
  ]),
  advanceWidth,
});

// The layout of fontkit, the library that pdfkit reads fonts with (OpenType GSUB and GPOS tables).
describe.each([
  'SourceSans3_400Regular.ttf',
  'SourceSans3_400Regular_Italic.ttf',
  'SourceSans3_700Bold.ttf',
  'SourceSerif4_600SemiBold.ttf',
])('figures from pairs of signs in %s', (file) => {
  const doc = new PDFDocument({ font: '', autoFirstPage: false }).font(
    readFileSync(join(findFontsDir(), file)),
  );
  const { font } = (doc as unknown as WithReadFont)._font;
  const layOut = (text: string) => {
    font._glyphs = {};
    return font.layout(text);
  };
  const layOutFigure = figureLayout(layOut);

  it('stand as the whole word does', () => {
    fc.assert(
      fc.property(figures, (text) => {
        const figure = layOutFigure(text);
        expect(figure).not.toBeNull();
        if (figure !== null) expect(laidOut(figure)).toEqual(laidOut(layOut(text)));
      }),
      { numRuns: 400 },
    );
  });

  it('are no words', () => {
    for (const text of ['', 'ozt', '1a', '1 2', '½', '1\u00a02']) expect(layOutFigure(text)).toBeNull();
  });
});
