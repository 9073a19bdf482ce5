import PDFDocument from 'pdfkit';
import { join } from 'node:path';
import { tmpdir } from 'node:os';
import { describe, expect, it } from 'vitest';
import { findFontsDir, printable, registerFonts } from '../../../reports/pdf/fonts.ts';

describe('findFontsDir', () => {
  it('finds the folder from anywhere below the project, as from the built server', () => {
    const root = join(import.meta.dirname, '..', '..', '..');
    expect(findFontsDir([join(root, '.build', 'server')])).toBe(join(root, 'reports', 'fonts'));
    expect(findFontsDir()).toBe(join(root, 'reports', 'fonts'));
  });

  it('says where it looked when there is none', () => {
    expect(() => findFontsDir([tmpdir()])).toThrow(`no folder above ${tmpdir()} holds reports/fonts/`);
  });
});

describe('registerFonts', () => {
  it('names the font that is missing', () => {
    const doc = new PDFDocument();
    expect(() => registerFonts(doc, join(tmpdir(), 'nowhere'))).toThrow(
      'SourceSans3_400Regular.ttf is missing',
    );
  });
});

describe('the fonts', () => {
  const doc = new PDFDocument();
  registerFonts(doc, findFontsDir());

  it('hold every sign of the trade in every style', () => {
    const signs = '0123456789.,+−×÷=±≤≥%‰°µσΩΔ½²³₂₃–—’“”…→·•ÄÖÜäöüßéèñçøåČłşğ€£';
    for (const font of ['regular', 'italic', 'bold', 'heading'] as const) {
      const missing: string[] = [];
      printable(doc, font, signs, (sign) => missing.push(sign));
      expect(missing).toEqual([]);
    }
  });

  it('set all figures equally wide, so that columns stand on their decimal points', () => {
    for (const font of ['regular', 'italic', 'bold', 'heading'] as const) {
      doc.font(font).fontSize(10);
      const widths = Array.from('0123456789', (digit) => doc.widthOfString(digit));
      expect(Math.max(...widths) - Math.min(...widths)).toBeLessThan(0.01);
      expect(doc.widthOfString('1,147.71')).toBeCloseTo(doc.widthOfString('8,888.88'), 2);
    }
  });

  it('put a box in place of a sign they lack, hand it over, and compose letters with their accents', () => {
    const missing: string[] = [];
    expect(printable(doc, 'regular', 'Cafe\u0301 金\tX', (sign) => missing.push(sign))).toBe('Café □ X');
    expect(missing).toEqual(['金']);
  });
});
