import { beforeAll, describe, expect, it } from 'vitest';
import { chargeSheetReport } from '../../../reports/model/charge-sheet-report.ts';
import { paintReport } from '../../../reports/pdf/paint-report.ts';
import { chargeSheetInputOf } from '../charge-sheet-fixture.ts';
import {
  checkSound,
  pageSizesOf,
  pageTexts,
  pdfToolsMissing,
  structureOf,
  textInOrder,
  withoutBlanks,
} from '../pdf-tools.ts';
import { wordsOf } from './report-words.ts';

describe.skipIf(pdfToolsMissing())('a painted charge sheet', () => {
  const report = chargeSheetReport(chargeSheetInputOf());

  describe.each([
    ['A4', '595.28 x 841.89 pts (A4)', '841.89 x 595.28 pts (A4)'],
    ['Letter', '612 x 792 pts (letter)', '792 x 612 pts (letter)'],
  ] as const)('on %s', (page, upright, sideways) => {
    let bytes: Buffer;
    beforeAll(async () => {
      bytes = await paintReport({ report, page, createdAt: new Date('2026-06-08T09:30:00Z') });
    });

    it('is a sound file that holds every word of the report, in its order', () => {
      checkSound(bytes);
      const text = textInOrder(bytes);
      let from = 0;
      for (const words of wordsOf(report)) {
        const at = text.indexOf(withoutBlanks(words), from);
        expect(at, `${words} after position ${from}`).toBeGreaterThanOrEqual(from);
        from = at;
      }
    });

    it('has the weighing sheet on pages of its own, held sideways', () => {
      const sizes = pageSizesOf(bytes);
      const pages = pageTexts(bytes);
      const first = sizes.indexOf(sideways);
      expect(first).toBeGreaterThan(0);
      expect(sizes.slice(0, first)).toEqual(sizes.slice(0, first).map(() => upright));
      expect(sizes.slice(first)).toEqual(sizes.slice(first).map(() => sideways));
      expect(pages[first]).toContain('Weighing sheet');
      const rows = pages
        .slice(first)
        .join('\n')
        .match(/^ *\d+ +[25],[04]00\s*$/gm);
      expect(rows).toHaveLength(13);
      pages.forEach((text, index) => {
        expect(text.trimStart()).toMatch(/^Charge sheet, batch T-B1, as of 8 Jun 2026/);
        expect(text).toContain(`Page ${index + 1} of ${pages.length}`);
        expect(text).toContain('Invented example');
      });
    });
  });

  it('tells a reader that the steps are a list and the boxes cells', async () => {
    const bytes = await paintReport({ report, page: 'A4', createdAt: new Date('2026-06-08T09:30:00Z') });
    const tree = structureOf(bytes);
    expect(tree).toMatch(/LI \(block\)[\s\S]*?Lbl[\s\S]*?"1"[\s\S]*?LBody[\s\S]*?Dry the concentrate/);
    expect(tree.split('"Remarks"')[1]?.match(/\bTD\b/g)?.length).toBeGreaterThanOrEqual(13 * 11);
  });
});
