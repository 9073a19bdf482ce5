import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { inflateSync } from 'node:zlib';
import PDFDocument from 'pdfkit';
import { describe, expect, it } from 'vitest';
import { findFontsDir, registerFonts } from '../../../reports/pdf/fonts.ts';
import { keptFont } from '../../../reports/pdf/kept-fonts.ts';
import { textWidth, type Paper } from '../../../reports/pdf/paper.ts';
import { paintReport } from '../../../reports/pdf/paint-report.ts';
import { BODY, HEADING } from '../../../reports/pdf/type-styles.ts';
import { openTag } from '../../../reports/pdf/tags.ts';
import { minimalReport } from './report-of-text.ts';

const fontsDir = findFontsDir();
const regular = join(fontsDir, 'SourceSans3_400Regular.ttf');
const openDoc = () => new PDFDocument({ font: '', autoFirstPage: false });

describe('fonts kept between documents', () => {
  it('are read once, and missed by name', () => {
    expect(keptFont(regular)).toBe(keptFont(regular));
    expect(() => keptFont(join(fontsDir, 'None.ttf'))).toThrow(/None\.ttf is missing/);
  });

  it('measure as a font does that was read for one document', () => {
    const doc = openDoc();
    registerFonts(doc, fontsDir);
    const paper: Paper = {
      doc,
      root: openTag(doc, null, 'Document'),
      leftPt: 0,
      widthPt: 500,
      bodyHeightPt: 700,
      missingSigns: new Set(),
    };
    const apart = openDoc();
    for (const text of [
      '',
      ' ',
      'Treatment charge',
      'office  AVA “fi” −1,234.50 USD/tonne ',
      'To. Ty, Wa',
      'a\u00a0b',
    ])
      for (const [style, file] of [
        [BODY, 'SourceSans3_400Regular.ttf'],
        [HEADING, 'SourceSerif4_600SemiBold.ttf'],
      ] as const) {
        const width = apart
          .font(readFileSync(join(fontsDir, file)))
          .fontSize(style.size)
          .widthOfString(text);
        // Twice: the first time measures, the second remembers.
        for (const time of ['first', 'second'])
          expect(textWidth(paper, style, text), `${text} ${time}`).toBeCloseTo(width, 10);
      }
  });

  it('give the same bytes whatever was printed before', async () => {
    const print = (text: string) =>
      paintReport({ report: minimalReport(text), page: 'A4', createdAt: new Date('2026-07-01T00:00:00Z') });
    const words = 'An office-fire of 1,234.50 USD; a\u00a0b, fi ffl, co-op, co\u2010op, co\u00adop.';
    const before = await print(words);
    await print('co\u00adop co\u2010op a b fi off-ice');
    expect((await print(words)).equals(before)).toBe(true);
  });
});

describe('the part of a font that is embedded', () => {
  const partsOf = async (text: string) => {
    const bytes = await paintReport({
      report: minimalReport(text),
      page: 'A4',
      createdAt: new Date('2026-07-01T00:00:00Z'),
    });
    const fonts = bytes.toString('latin1').matchAll(/\/FontFile2 (\d+) 0 R/g);
    return Array.from(fonts, ([, id]) => {
      const from = bytes.indexOf(`\n${id} 0 obj`);
      const start = bytes.indexOf('stream\n', from) + 7;
      return bytes.subarray(start, bytes.indexOf('\nendstream', start));
    });
  };

  it('is the same in documents of common signs, and holds others where they are needed', async () => {
    const [plain, again, other] = [
      await partsOf('Zinc 12.5 %'),
      await partsOf('Quartz'),
      await partsOf('Žlab'),
    ];
    expect(plain.length).toBeGreaterThan(1);
    expect(again).toEqual(plain);
    expect(other).not.toEqual(plain);
    // Each is a TrueType font once it is unpacked.
    for (const part of [...plain, ...other]) expect(inflateSync(part).toString('latin1', 0, 4)).toBe('true');
  });
});
