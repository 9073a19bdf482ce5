import { describe, expect, it } from 'vitest';
import { judgeOf } from '../../api/imports/judge-rows.ts';
import { problemList } from '../../api/imports/problem-list.ts';
import { quotationFile } from '../../api/imports/quotation-file.ts';
import { templateFile } from '../../api/imports/template-file.ts';
import { understandFile } from '../../api/imports/understand-file.ts';
import { lotFile } from '../../api/imports/lot-file.ts';
import { TEMPLATE_COLUMNS } from '../../reports/csv/templates.ts';
import { understand } from './understand.ts';

const header = 'metal,quoted_on,price,currency,unit,source';

describe('a file of quotations', () => {
  it('is understood or refused in the words of the entry by hand', async () => {
    const { entries, problems } = await understand(
      quotationFile,
      `${header}\nAu,2026-06-12,2500.00,USD,ozt,"=HYPERLINK(""x"")"\nAU,2026-06-12,0,usd,oz,\n`,
    );
    expect(entries).toEqual([
      {
        metal: 'Au',
        quotedOn: '2026-06-12',
        price: '2500.00',
        currency: 'USD',
        unit: 'ozt',
        source: '=HYPERLINK("x")',
      },
      null,
    ]);
    expect(problems.map(({ row, column, value, message }) => [row, column, value, message])).toEqual([
      [3, 'metal', 'AU', 'Must be the symbol of a chemical element, such as Au, Ag or As.'],
      [3, 'price', '0', 'Must be above 0.'],
      [3, 'currency', 'usd', 'Must be a currency code of three capitals (ISO 4217), such as USD.'],
      [3, 'unit', 'oz', 'Must be ozt, t, lb, kg or g.'],
    ]);
  });

  it('lists five hundred problems and counts them all', async () => {
    const { problems, problemCount } = await understand(
      quotationFile,
      `${header}\n${'Au,2026-06-12,x,USD,ozt,\n'.repeat(1200)}`,
    );
    expect([problems.length, problemCount]).toEqual([500, 1200]);
  });

  it('shows a long value cut short', async () => {
    const { problems } = await understand(
      quotationFile,
      `${header}\nAu,2026-06-12,${'9'.repeat(5000)}x,USD,ozt,\n`,
    );
    expect(problems).toMatchObject([{ value: `${'9'.repeat(79)}…` }]);
  });
});

describe('a hostile file', () => {
  it('has 300 columns, each named once', async () => {
    const columns = Array.from({ length: 300 }, (_, at) => `c${at}`);
    const { problems, rows } = await understand(quotationFile, `${columns.join()}\n${columns.join()}\n`);
    expect(problems).toHaveLength(305);
    expect(rows).toEqual([]);
  });

  it('is read up to its broken row, and says so', async () => {
    const { problems, entries } = await understand(
      quotationFile,
      `${header}\nAu,2026-06-12,2500,USD,ozt,\nAg,2026-06-12,"30,USD,ozt,\n`,
    );
    expect(entries).toHaveLength(1);
    expect(problems).toEqual([
      {
        row: 3,
        column: null,
        value: null,
        message: 'A quotation mark is opened in this row and never closed. Reading stopped at this row.',
      },
    ]);
    expect((await understand(quotationFile, `"${header}\n`)).problems).toHaveLength(1);
  });

  it('is no table at all', async () => {
    const run = (bytes: Uint8Array) =>
      understandFile({
        bytes,
        kind: quotationFile,
        settings: { importDateOrder: 'iso', decimalComma: false },
        watch: { report: () => {}, signal: new AbortController().signal },
        onRows: () => Promise.resolve(),
      });
    await expect(run(Buffer.from(header, 'utf16le'))).rejects.toMatchObject({
      status: 422,
      detail: expect.stringContaining('UTF-16'),
    });
    await expect(run(Buffer.from('a\tb\n1\t2\n'))).rejects.toMatchObject({
      status: 422,
      detail: expect.stringContaining('tabs'),
    });
  });

  it('is left when nobody waits for it any more', async () => {
    const leaving = new AbortController();
    let seen = 0;
    const reading = understandFile({
      bytes: Buffer.from(`${header}\n${'Au,2026-06-12,2500,USD,ozt,\n'.repeat(5000)}`),
      kind: quotationFile,
      settings: { importDateOrder: 'iso', decimalComma: false },
      watch: { report: () => {}, signal: leaving.signal },
      onRows: (rows) => {
        seen += rows.length;
        leaving.abort();
        return Promise.resolve();
      },
    });
    await expect(reading).rejects.toMatchObject({ name: 'AbortError' });
    expect(seen).toBe(1000);
  });
});

describe('rows beside the books', () => {
  const recorded = {
    title: 'The quotation',
    isThere: true,
    values: {
      metal: 'Au',
      quoted_on: '2026-06-12',
      price: '2500',
      currency: 'USD',
      unit: 'ozt',
      source: 'typed',
    },
  };
  const judge = async (row: string) => {
    const { rows, problems, columns } = await understand(quotationFile, `${header}\n${row}\n`);
    const list = problemList();
    expect(problems).toEqual([]);
    const judged = judgeOf({ kind: quotationFile, columns, problems: list });
    // However the rows are cut into pieces.
    const newEntries = rows.flatMap((one) =>
      judged.judge([one], ({ metal }) => (metal === 'Au' ? recorded : null)),
    );
    return {
      newEntries,
      states: judged.shownRows.map(({ state }) => state),
      ...judged,
      problems: list.listed,
    };
  };

  it('are new, unchanged or in conflict; an empty cell contradicts nothing', async () => {
    expect(await judge('Ag,2026-06-12,30,USD,ozt,')).toMatchObject({ states: ['new'], problems: [] });
    expect(await judge('Au,2026-06-12,2500.00,USD,ozt,typed')).toMatchObject({
      states: ['unchanged'],
      newEntries: [],
    });
    expect(await judge('Au,2026-06-12,2500,USD,ozt,')).toMatchObject({ states: ['unchanged'] });
    expect(await judge('Au,2026-06-12,2500.01,USD,ozt,read')).toMatchObject({
      states: ['conflict'],
      newEntries: [],
      problems: [
        {
          row: 2,
          column: 'price',
          value: '2500.01',
          message:
            'The quotation is already recorded with 2500 here. An import changes no record: change it by hand, or mend the file.',
        },
        { row: 2, column: 'source', value: 'read' },
      ],
    });
  });

  it('are faulty when the file has their key twice, even with the same values', async () => {
    const { counts, problems } = await judge('Ag,2026-06-12,30,USD,ozt,\n\nAg,2026-06-12,30.0,USD,ozt,');
    expect(counts).toEqual({ rows: 2, new: 1, unchanged: 0, conflict: 0, faulty: 1 });
    expect(problems).toEqual([
      {
        row: 4,
        column: null,
        value: null,
        message: 'The quotation of Ag in USD/ozt on 2026-06-12 is already in row 2 of this file.',
      },
    ]);
  });
});

describe('a template', () => {
  it('is understood as it stands, in the spelling of either setting', async () => {
    for (const decimalComma of [false, true]) {
      const text = templateFile('quotations', { decimalComma, reagentNames: [] });
      const { problems, entries } = await understand(quotationFile, text, {
        importDateOrder: 'iso',
        decimalComma,
      });
      expect(problems).toEqual([]);
      expect(entries.map((entry) => entry?.price)).toEqual(['2500.00', '30.00']);
    }
    const lots = lotFile([
      {
        id: '11111111-1111-4111-8111-111111111111',
        name: 'S',
        startsOn: '2026-01-01',
        endsOn: '2026-12-31',
        version: 1,
      },
    ]);
    const text = templateFile('lots', { decimalComma: true, reagentNames: [] });
    const { problems, entries } = await understand(lots, text, {
      importDateOrder: 'iso',
      decimalComma: true,
    });
    expect(problems).toEqual([]);
    expect(entries[0]).toMatchObject({ wetMassKg: '182.5', description: expect.stringContaining(',') });
  });

  it('has no column that the import does not know', () => {
    const known = [...quotationFile.columns, ...lotFile([]).columns].map(({ name }) => name);
    expect(known).toEqual(expect.arrayContaining([...TEMPLATE_COLUMNS.quotations, ...TEMPLATE_COLUMNS.lots]));
  });
});
