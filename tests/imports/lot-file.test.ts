import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lotFile, type LotEntry } from '../../api/imports/lot-file.ts';
import { mineralNames } from '../../api/schemas/lot.ts';
import { understand } from './understand.ts';

const seasons = [
  {
    id: '11111111-1111-4111-8111-111111111111',
    name: 'Summer',
    startsOn: '2026-05-01',
    endsOn: '2026-09-30',
    version: 1,
  },
  {
    id: '22222222-2222-4222-8222-222222222222',
    name: 'Late',
    startsOn: '2026-09-15',
    endsOn: '2026-11-30',
    version: 1,
  },
];
const kind = lotFile(seasons);
const header = 'code,description,made_on,wet_mass_kg,moisture_percent,pyrite_percent,galena_percent,remarks';

const problemsOf = async (row: string) => {
  const { problems, entries } = await understand(kind, `${header}\n${row}\n`);
  expect(entries).toEqual([null]);
  return problems.map(({ column, message }) => `${column}: ${message}`);
};

describe('a file of lots', () => {
  it('is understood', async () => {
    const { entries, problems, columns } = await understand(
      kind,
      `${header}\nL-1,"Table, upper bench",2026-06-02,182.50,7.2,58,0,\nL-2,=1+1,2026-10-01,41.30,0,,,-\n`,
    );
    expect(problems).toEqual([]);
    expect(columns).toEqual(header.split(','));
    expect(entries).toEqual<LotEntry[]>([
      {
        seasonId: seasons[0]?.id ?? '',
        code: 'L-1',
        description: 'Table, upper bench',
        madeOn: '2026-06-02',
        wetMassKg: '182.50',
        moistureFrac: '0.072',
        minerals: [{ mineral: 'pyrite', massFrac: '0.58' }],
        remarks: '',
      },
      {
        seasonId: seasons[1]?.id ?? '',
        code: 'L-2',
        description: '=1+1',
        madeOn: '2026-10-01',
        wetMassKg: '41.30',
        moistureFrac: '0',
        minerals: [],
        remarks: '-',
      },
    ]);
  });

  it('says of each row what cannot be right', async () => {
    expect(await problemsOf('L-1,,2025-06-02,182.5,7.2,,,')).toEqual([
      'made_on: Must be a day of a season; recorded are Summer (2026-05-01 to 2026-09-30), Late (2026-09-15 to 2026-11-30).',
    ]);
    expect(await problemsOf('L-1,,2026-09-20,182.5,7.2,,,')).toEqual([
      'made_on: Must be a day of one season alone, but Summer and Late overlap; mend the days of the seasons first.',
    ]);
    expect(await problemsOf('L-1,,2026-06-02,-5,100,120,0.1234567,')).toEqual([
      'pyrite_percent: Must be from 0 to 100 percent.',
      'galena_percent: Must have at most 6 decimals.',
      'moisture_percent: Must be below 100 percent.',
      'wet_mass_kg: Must be above 0.',
    ]);
    expect(await problemsOf('L-1,,2026-06-02,5,7,70,30.5,')).toEqual([
      'pyrite_percent: Must not, with the other minerals, add up to more than 100 percent; they add up to 100.5.',
    ]);
    expect(await problemsOf(`${'L'.repeat(41)},,2026-06-02,20000000,7,,,`)).toEqual([
      'code: Must be at most 40 characters.',
      'wet_mass_kg: Must be at most 10000000.',
    ]);
    expect(await problemsOf(' ,x,,,,,,')).toEqual([
      'code: Must not be empty.',
      'made_on: Must not be empty.',
      'wet_mass_kg: Must not be empty.',
      'moisture_percent: Must not be empty.',
    ]);
  });

  it('has nothing in columns that the header does not name', async () => {
    const { problems, entries } = await understand(
      kind,
      `${header},,\nL-1,,2026-06-02,5,7,,,,,\nL-2,,2026-06-02,5,7,,,,\u00a0,,,\nL-3,,2026-06-02,5,7\nL-4,,2026-06-02,5,7,,,,,,stray\n`,
    );
    expect(entries.map((entry) => entry?.code)).toEqual(['L-1', 'L-2', 'L-3', undefined]);
    expect(problems).toEqual([
      {
        row: 5,
        column: null,
        value: 'stray',
        message: 'The row has something in a column without a name in the header.',
      },
    ]);
    const commas = await understand(
      kind,
      'code,made_on,wet_mass_kg,moisture_percent\nL-1,2026-06-02,5,5,7\n',
      {
        importDateOrder: 'iso',
        decimalComma: true,
      },
    );
    expect(commas.problems[0]?.message).toMatch(/decimal comma need quotes/);
  });

  it('has rows', async () => {
    expect((await understand(kind, `${header}\r\n,,\r\n`)).problems).toEqual([
      { row: 1, column: null, value: null, message: 'There are no rows under the header.' },
    ]);
  });

  it('comes back as it was written, in every spelling that the settings allow', async () => {
    const words = fc
      .string({
        unit: fc.constantFrom('a', 'Z', '9', 'é', '鉱', '"', ',', ';', '\n', ' ', '=', '-', '@'),
        maxLength: 12,
      })
      .map((text) => text.trim());
    const hundredths = (most: number) => fc.integer({ min: 0, max: most }).map((count) => count / 100);
    const lot = fc.record({
      description: words,
      remarks: words,
      day: fc.integer({ min: 0, max: 130 }),
      wetMassKg: hundredths(5_000_000).map((kg) => (kg + 0.01).toFixed(2)),
      moisture: hundredths(9_999),
      minerals: fc.uniqueArray(fc.constantFrom(...mineralNames), { maxLength: 4 }),
    });
    const spelling = fc.record({
      separator: fc.constantFrom(',', ';'),
      lineEnd: fc.constantFrom('\n', '\r\n'),
      bom: fc.boolean(),
      quoted: fc.boolean(),
      decimalComma: fc.boolean(),
      order: fc.constantFrom('iso', 'day-month-year', 'month-day-year'),
      spoken: fc.constantFrom(
        (column: string) => column,
        (column: string) => column.toUpperCase(),
        (column: string) => ` ${column.replaceAll('_', ' ')} `,
      ),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(lot, { minLength: 1, maxLength: 5 }), spelling, async (lots, spelt) => {
        const entries = lots.map((one, at): LotEntry => {
          const madeOn = new Date(Date.UTC(2026, 4, 1) + one.day * 86_400_000).toISOString().slice(0, 10);
          return {
            seasonId: seasons[0]?.id ?? '',
            code: `L-${at}`,
            description: one.description,
            madeOn,
            wetMassKg: one.wetMassKg,
            moistureFrac: String(Number((one.moisture / 100).toFixed(6))),
            minerals: mineralNames
              .filter((mineral) => one.minerals.includes(mineral))
              .map((mineral) => ({ mineral, massFrac: '0.125' })),
            remarks: one.remarks,
          };
        });
        const date = (iso: string): string => {
          const [year, month, day] = iso.split('-');
          if (spelt.order === 'day-month-year') return `${day}.${month}.${year}`;
          return spelt.order === 'month-day-year' ? `${month}/${day}/${year}` : iso;
        };
        const number = (text: string): string => (spelt.decimalComma ? text.replace('.', ',') : text);
        const columns = kind.columns.map(({ name }) => name);
        const csv = stringify(
          [
            columns.map(spelt.spoken),
            ...entries.map((entry) =>
              columns.map((column) => {
                const cell = kind.shown(entry)[column] ?? '';
                if (column === 'wet_mass_kg') return number(entry.wetMassKg);
                if (column === 'made_on') return date(cell);
                return column.endsWith('_percent') ? number(cell) : cell;
              }),
            ),
          ],
          {
            delimiter: spelt.separator,
            record_delimiter: spelt.lineEnd,
            quote_record_delimiter: true,
            quoted_match: /[\r\n]/,
            quoted: spelt.quoted,
            bom: spelt.bom,
          },
        );
        const read = await understand(kind, csv, {
          importDateOrder: spelt.order as 'iso',
          decimalComma: spelt.decimalComma,
        });
        expect(read.problems).toEqual([]);
        expect(read.separator).toBe(spelt.separator);
        expect(read.entries).toEqual(entries);
      }),
    );
  });
});
