import { Decimal } from 'decimal.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { forecastAgainstActual } from '../../../reports/charts/forecast-against-actual.ts';
import type { Scene } from '../../../reports/charts/scene.ts';
import type { Report, TableRow } from '../../../reports/model/report.ts';
import { seasonReport } from '../../../reports/model/season-report.ts';
import { statementReport } from '../../../reports/model/statement-report.ts';
import { paintReport } from '../../../reports/pdf/paint-report.ts';
import { seasonInput, statementInput } from '../fixtures.ts';
import {
  checkSound,
  fontsOf,
  infoOf,
  metadataOf,
  objectsOf,
  pageTexts,
  pdfToolsMissing,
  structureOf,
  textInOrder,
  withoutBlanks,
} from '../pdf-tools.ts';
import { longStatement, tableReport, wordsOf } from './report-words.ts';

const CREATED_AT = new Date('2026-08-14T09:30:00Z');
const paint = (report: Report, page: 'A4' | 'Letter' = 'A4') =>
  paintReport({ report, page, createdAt: CREATED_AT });

describe.skipIf(pdfToolsMissing())('a painted statement', () => {
  const report = statementReport(statementInput());

  describe.each([
    ['A4', '595.28 x 841.89 pts (A4)'],
    ['Letter', '612 x 792 pts (letter)'],
  ] as const)('on %s', (page, size) => {
    let bytes: Buffer;
    beforeAll(async () => {
      bytes = await paint(report, page);
    });

    it('is a sound file of that size', () => {
      checkSound(bytes);
      expect(infoOf(bytes)['Page size']).toBe(size);
    });

    it('holds every word and figure of the report, in its order', () => {
      const text = textInOrder(bytes);
      let from = 0;
      for (const words of wordsOf(report)) {
        const at = text.indexOf(withoutBlanks(words), from);
        expect(at, `${words} after position ${from}`).toBeGreaterThanOrEqual(from);
        from = at;
      }
    });

    it('has running head, notice, number and page count on every page', () => {
      const pages = pageTexts(bytes);
      expect(pages).toHaveLength(Number(infoOf(bytes).Pages));
      expect(pages.length).toBeGreaterThan(1);
      pages.forEach((text, index) => {
        expect(text.trimStart()).toMatch(/^Statement S-0007, final\s+Settlement statement/);
        expect(text).toContain(
          'Invented example: the companies, people and figures in this document are made up.',
        );
        const foot = text.trimEnd().split('\n').at(-1);
        expect(foot).toMatch(/^Statement S-0007, final\s+Made 2026-08-14 09:30 UTC\s+Page/);
        expect(foot).toContain(`Page ${index + 1} of ${pages.length}`);
      });
    });
  });

  it('gives the same bytes for the same report and time, and others for another time', async () => {
    const bytes = await paint(report);
    expect((await paint(report)).equals(bytes)).toBe(true);
    const later = await paintReport({ report, page: 'A4', createdAt: new Date('2026-08-14T09:31:00Z') });
    expect(later.equals(bytes)).toBe(false);
    expect(infoOf(bytes).CreationDate).toContain('2026');
  });

  it('embeds all its fonts with their Unicode meaning', async () => {
    const fonts = fontsOf(await paint(report));
    expect(fonts.length).toBeGreaterThanOrEqual(3);
    for (const font of fonts)
      expect(font).toMatch(/Source(Sans3|Serif4)-\w+ +CID TrueType +Identity-H +yes yes yes/);
  });

  it('has a structure tree with title, headings, tables and their heads, and says its language and title', async () => {
    const bytes = await paint(report);
    expect(infoOf(bytes)).toMatchObject({
      Tagged: 'yes',
      'PDF version': '1.7',
      Title: 'Statement S-0007, final',
    });
    const tree = structureOf(bytes);
    expect(tree).toMatch(/^Document\n {2}H1 \(block\)\n {4}"Settlement statement"/);
    expect(tree).toMatch(/H2 \(block\)\n\s+"Terms"/);
    expect(tree).toMatch(
      /Table \(block\)\n\s+Caption\n\s+"Account in USD"\n\s+THead\n\s+TR\n\s+TH:?\n\s+\/Scope \/Column\n\s+"Line"/,
    );
    expect(tree).toMatch(
      /TH:\n\s+\/Scope \/Row\n\s+"Treatment charge"\n\s+TD\n\s+"1.1450 t"\n\s+TD\n\s+"310.00 USD\/t"\n\s+TD\n\s+TD\n\s+"−354.95"/,
    );
    expect(tree).toMatch(/TD:\n\s+\/ColSpan 5\n\s+"1.1450 t dry × 310.00 USD\/t"/);
    const objects = objectsOf(bytes);
    expect(objects).toMatch(/"\/Lang": "u:en"/);
    expect(objects).toMatch(/"\/DisplayDocTitle": true/);
  });

  it('adds up: the amounts read off the pages come to what is owed', async () => {
    const account =
      pageTexts(await paint(report))
        .join('\n')
        .split('Account in USD\n')[1]
        ?.split('Change of the net value')[0] ?? '';
    const amounts = [...account.matchAll(/^(?!Sum of|Buyer owes)\S.* {2,}(−?[\d,]+\.\d{2})$/gm)].map(
      (match) => (match[1] ?? '').replaceAll(',', '').replace('−', '-'),
    );
    expect(amounts).toHaveLength(8);
    const sum = amounts.reduce((total, amount) => total.plus(amount), new Decimal(0));
    expect(sum.toFixed(2)).toBe('1560.05');
    expect(account).toMatch(/Buyer owes seller +1,560\.05/);
  });

  it('keeps its XML metadata readable when a name has an ampersand in it', async () => {
    const metadata = metadataOf(
      await paint({ ...report, runningHead: 'Black & White <mill>', subtitle: 'A & B' }),
    );
    expect(metadata).toContain('Black &amp; White &lt;mill&gt;');
    expect(metadata).not.toMatch(/&(?!amp;|lt;|gt;)/);
    expect(infoOf(await paint({ ...report, runningHead: 'Black & White' })).Title).toBe('Black & White');
  });
});

describe.skipIf(pdfToolsMissing())('a statement of many lines', () => {
  it.each([58, 59, 60, 61, 62, 63])(
    'of %i lines parts no sum from its lines and no heading from what follows',
    async (count) => {
      const report = statementReport(longStatement(count));
      const bytes = await paint(report);
      checkSound(bytes);
      const pages = pageTexts(bytes);
      expect(pages.length).toBeGreaterThan(4);
      for (const text of pages) {
        const lines = text
          .split('\n')
          .map((line) => line.trim())
          .filter((line) => line !== '');
        const body = lines.slice(2, -1);
        const heads = body.flatMap((line, index) => (/^Line\b.*Amount, USD$/.test(line) ? [index] : []));
        for (const head of heads) expect(body[head + 1]).not.toMatch(/^(Sum of|Buyer owes)/);
        expect(body.at(-1)).not.toMatch(/^(Payable metal|Charges|Penalties|Line\b.*|Terms|Rounding|Agreed)$/);
        const firstRow = body.findIndex((line) => line.startsWith('Line number'));
        if (firstRow !== -1) expect(heads[0], 'a head above the first row').toBeLessThan(firstRow);
      }
      const text = pages.join('\n');
      for (let index = 1; index <= count; index += 1) expect(text).toContain(`Line number ${index} `);
    },
  );

  it('parts no sum in the middle of a table from the row before it', async () => {
    const plain: TableRow = { style: 'plain', cells: { label: 'a row', text: '1' } };
    const sum: TableRow = { style: 'subtotal', cells: { label: 'a sum', text: '9' } };
    let turned = 0;
    for (let count = 32; count <= 42; count += 1) {
      const rows = [...Array.from({ length: count }, () => plain), sum, plain, plain, plain];
      const pages = pageTexts(await paint(tableReport(rows)));
      const page = pages.find((text) => text.includes('a sum')) ?? '';
      expect(page).toMatch(/a row +1\s+a sum +9/);
      if (page !== pages[0]) turned += 1;
    }
    expect(turned).toBeGreaterThan(0);
    expect(turned).toBeLessThan(11);
  });

  it('leaves no row alone on the last page of a long table, and does not part a short one', async () => {
    const plain: TableRow = { style: 'plain', cells: { label: 'a row', text: '1' } };
    const rowsOn = (text: string) => text.split('a row').length - 1;
    for (let count = 38; count <= 43; count += 1) {
      const pages = pageTexts(await paint(tableReport(Array.from({ length: count }, () => plain))));
      expect(rowsOn(pages.at(-1) ?? '')).not.toBe(1);
    }
    const short = tableReport(Array.from({ length: 5 }, () => plain));
    let turned = 0;
    for (let count = 24; count <= 36; count += 1) {
      const paragraphs = Array.from(
        { length: count },
        () => ({ kind: 'paragraph', text: 'Some words.' }) as const,
      );
      const pages = pageTexts(await paint({ ...short, blocks: [...paragraphs, ...short.blocks] }));
      expect(pages.map(rowsOn).filter((rows) => rows > 0)).toEqual([5]);
      if (pages.length > 1) turned += 1;
    }
    expect(turned).toBeGreaterThan(0);
    expect(turned).toBeLessThan(13);
  });

  it('parts no row: label, working and amount of a line stand on one page', async () => {
    const pages = pageTexts(await paint(statementReport(longStatement(60))));
    for (let index = 1; index <= 60; index += 1) {
      const page = pages.filter((text) => text.includes(`Line number ${index} `));
      expect(page).toHaveLength(1);
      expect(page[0]).toContain(`working of line ${index},`);
      expect(page[0]).toContain(`end of working ${index}.`);
    }
  });

  it('keeps the places to sign together', async () => {
    for (let count = 1; count <= 14; count += 1) {
      const pages = pageTexts(await paint(statementReport(longStatement(count)), 'Letter'));
      const signed = pages.filter((text) => /Signature|Name and position/.test(text));
      expect(signed).toHaveLength(1);
      expect(signed[0]).toMatch(/Agreed\s+Every figure in the lines/);
      expect(signed[0]).toMatch(/For .*\(seller\)[\s\S]*Signature[\s\S]*Name and position[\s\S]*\n.*Date/);
    }
  });
});

describe.skipIf(pdfToolsMissing())('hard cases', () => {
  const longName = `The ${'Very '.repeat(40)}Long ${'Unbreakable'.repeat(12)} Name (invented)`;

  it('prints long names whole in the text and shortened in the head', async () => {
    const input = statementInput({
      parcelName: longName,
      seller: { name: longName, addressLines: [longName] },
    });
    const report = { ...statementReport(input), runningHead: longName };
    const bytes = await paint(report);
    checkSound(bytes);
    expect(textInOrder(bytes)).toContain(withoutBlanks(`For ${longName} (seller)`));
    for (const text of pageTexts(bytes)) expect(text.trimStart().split('\n')[0]).toContain('…');
  });

  it('prints a table without rows, and a row higher than a page', async () => {
    const words = Array.from({ length: 1500 }, (_, index) => `word${index}`).join(' ');
    const row: TableRow = { style: 'plain', cells: { label: 'short', text: words }, detail: words };
    const bytes = await paint(tableReport([]));
    expect(pageTexts(bytes).join('')).toContain('No entries.');
    const high = await paint(tableReport([row, { style: 'total', cells: { label: 'Sum', text: '1' } }]));
    checkSound(high);
    const text = textInOrder(high);
    for (const word of ['word0', 'word777', 'word1499'])
      expect(text.split(word).length - 1).toBeGreaterThanOrEqual(2);
    expect(Number(infoOf(high).Pages)).toBeGreaterThan(2);
  });

  it('runs a notice and a paragraph higher than a page over several', async () => {
    const text = Array.from({ length: 2500 }, (_, index) => `word${index}`).join(' ');
    const bytes = await paint({
      ...tableReport([]),
      blocks: [
        { kind: 'notice', level: 'warning', text },
        { kind: 'paragraph', text },
      ],
    });
    checkSound(bytes);
    const read = textInOrder(bytes);
    for (const word of ['word0', 'word1250', 'word2499']) expect(read.split(word)).toHaveLength(3);
    expect(read.split('WARNING')).toHaveLength(2);
  });

  it('names the signs that its fonts lack instead of dropping them', async () => {
    const bytes = await paint(statementReport(statementInput({ parcelName: 'Parcel 金-7' })));
    const text = pageTexts(bytes).join('\n');
    expect(text).toContain('Parcel □-7');
    expect(text).toMatch(/lack a sign that it uses \(Unicode U\+91D1\); a box stands in/);
  });
});

describe.skipIf(pdfToolsMissing())('a painted season', () => {
  it('shows its chart with words for those who cannot see it, and its text can be read', async () => {
    const scene = forecastAgainstActual(
      {
        title: 'Net value by batch',
        quantity: 'Net value',
        unit: 'USD',
        batches: [{ name: 'B-01', forecast: { low: 6120, median: 7080, high: 8110 }, actual: 7210 }],
      },
      480,
    );
    const report = seasonReport(seasonInput({ charts: [{ scene }] }));
    const bytes = await paint(report);
    checkSound(bytes);
    expect(structureOf(bytes)).toMatch(/Figure:\n\s+\/Placement \/Block\n\s+\/BBox/);
    expect(objectsOf(bytes)).toContain(`"/Alt": "u:Net value by batch. ${scene.description}`);
    const text = textInOrder(bytes);
    for (const mark of scene.marks)
      if (mark.kind === 'text') expect(text).toContain(withoutBlanks(mark.text));
  });

  it('shrinks a chart that is larger than the page', async () => {
    const scene: Scene = {
      width: 2000,
      height: 6000,
      title: 'Large',
      description: 'A large square.',
      marks: [
        { kind: 'rect', x: 0, y: 0, width: 2000, height: 6000, role: 'range', filled: true, hatched: true },
        { kind: 'path', d: 'M0 0L100 100Z', role: 'loss', width: 2, filled: false, dash: [4, 2, 1, 2] },
        { kind: 'circle', x: 10, y: 10, radius: 5, role: 'gold', filled: true },
        {
          kind: 'text',
          x: 1990,
          y: 2990,
          text: 'corner',
          sizePt: 60,
          role: 'ink',
          anchor: 'end',
          bold: true,
        },
      ],
    };
    const bytes = await paint({
      ...tableReport([]),
      blocks: [{ kind: 'chart', scene }],
    });
    checkSound(bytes);
    const box = /\/BBox \[([\d. ]+)\]/.exec(structureOf(bytes))?.[1]?.split(' ').map(Number) ?? [];
    expect(box).toHaveLength(4);
    expect(box[1]).toBeGreaterThan(40);
    expect(box[3]).toBeLessThan(842);
    expect(pageTexts(bytes).join('')).toContain('corner');
  });
});
