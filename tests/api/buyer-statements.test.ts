import { Decimal } from 'decimal.js';
import { expect, it } from 'vitest';
import { createApp } from '../../api/app.ts';
import { settle } from '../../api/calc/settlement/settle.ts';
import type { Settlement } from '../../api/calc/settlement/statement.ts';
import { findStatement } from '../../db/queries/statements.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill, type Answer } from '../support/mill.ts';
import { issue, soldParcel } from '../support/settled-parcel.ts';

const linesOf = (settlement: Settlement) =>
  settlement.lines
    .filter((line) => line.amount !== null)
    .map(({ id, label, amount }) => ({ lineId: id, label, amount }));

describeOnEveryEngine("a buyer's statement", (open) => {
  async function issued() {
    const { db } = await open();
    const mill = await smallMill(db);
    const { entry } = await soldParcel(mill);
    const ours = await issue(mill, entry, '2026-06-09');
    return { ...mill, db, ours };
  }

  /** Their statement: the buyer worked the same parcel with two points more moisture. */
  async function wetter() {
    const mill = await issued();
    const { kept } = await findStatement(mill.db, mill.ours.id);
    const { parcel } = kept.settlementInput;
    if (parcel.kind !== 'concentrate') throw new Error('the parcel is concentrate');
    const theirs = settle({
      ...kept.settlementInput,
      parcel: { ...parcel, sublots: parcel.sublots.map((lot) => ({ ...lot, moistureFrac: '0.061' })) },
    });
    const entry = {
      statementId: mill.ours.id as string,
      number: 'INV-4711',
      datedOn: '2026-06-20',
      lines: linesOf(theirs),
      total: theirs.total,
    };
    return { ...mill, entry, theirs };
  }

  it('is kept as it was typed, changed, and removed again', async () => {
    const { enter, send, ours } = await issued();
    const entry = {
      statementId: ours.id,
      number: '4711/26',
      datedOn: '2026-06-20',
      lines: [
        { label: 'Gold', lineId: 'payable/Au', quantity: '2.110', amount: '5063.90' },
        { label: 'Moisture, dry mass', lineId: 'weights/dry', quantity: '191' },
        { label: 'Weighbridge', lineId: null, amount: '-35.00' },
      ],
      total: '4900.10',
      remarks: 'By post.',
    };
    const kept = await enter('POST', '/buyer-statements', entry);
    expect(kept).toMatchObject({
      ...entry,
      version: 1,
      lines: [
        { label: 'Gold', lineId: 'payable/Au', quantity: '2.110', amount: '5063.90' },
        { label: 'Moisture, dry mass', lineId: 'weights/dry', quantity: '191', amount: null },
        { label: 'Weighbridge', lineId: null, quantity: null, amount: '-35.00' },
      ],
    });
    const { statementId: _statementId, ...fields } = entry;
    const change = { ...fields, lines: entry.lines.slice(0, 1), total: '5063.90', version: 1 };
    const changed = await enter('PUT', `/buyer-statements/${kept.id}`, change);
    expect(changed).toMatchObject({ version: 2, total: '5063.90', lines: [{ label: 'Gold' }] });
    expect((await send('PUT', `/buyer-statements/${kept.id}`, change)).status).toBe(412);
    expect(await enter('GET', `/buyer-statements?statementId=${ours.id}`)).toEqual([changed]);
    expect(await enter('GET', `/buyer-statements/${kept.id}`)).toEqual(changed);

    const again = await send('POST', '/buyer-statements', entry);
    expect(again).toMatchObject({ status: 422, body: { errors: [{ pointer: '/number' }] } });
    expect((await send('DELETE', `/buyer-statements/${kept.id}`)).status).toBe(204);
    expect((await send('DELETE', `/buyer-statements/${kept.id}`)).status).toBe(404);
    expect((await send('GET', `/buyer-statements/${kept.id}`)).status).toBe(404);
  });

  it('is held against ours, and the moisture named that explains it to the cent', async () => {
    const { enter, send, entry, ours, theirs } = await wetter();
    const preview = await enter('POST', '/buyer-statements/preview', entry);
    const difference = new Decimal(theirs.total).minus(ours.total).toFixed(2);
    expect(new Decimal(difference).isNegative()).toBe(true);
    expect(preview).toMatchObject({
      currency: 'USD',
      ourTotal: ours.total,
      theirTotal: theirs.total,
      difference,
      unexplained: '0.00',
      findings: [],
      causes: [{ code: 'other-moisture', moneyEffect: difference, totalAfter: theirs.total }],
    });
    expect(preview.causes[0].sentence).toMatch(
      /^Their moisture is 6\.1 %, ours 4 %; any from 6\.\d+ to 6\.\d+ % gives the same\.$/,
    );

    const kept = await enter('POST', '/buyer-statements', entry);
    const report = await enter('GET', `/buyer-statements/${kept.id}/comparison`);
    const words = JSON.stringify(report);
    const by = new Decimal(difference).abs().toFixed(2);
    expect(report.blocks[0].text).toMatch(
      new RegExp(`^Statement INV-4711 of Invented Smelter comes to .*, ${by} USD less than our S-0001`),
    );
    expect(words).toMatch(/gives the same\. Ask for the moisture certificate/);
    const pdf = await send('GET', `/buyer-statements/${kept.id}/comparison.pdf`);
    expect(pdf.headers.get('content-type')).toBe('application/pdf');
    expect(pdf.headers.get('content-disposition')).toContain('comparison-INV-4711.pdf');
    expect(new TextDecoder('latin1').decode(pdf.body.slice(0, 5))).toBe('%PDF-');
  });

  it('is refused where its lines cannot be held against ours', async () => {
    const { send, entry } = await wetter();
    const cases: [body: object, pointer: string, says: RegExp][] = [
      [
        { lines: [{ label: 'x', lineId: 'payable/Pt', amount: '1' }] },
        '/lines/0/lineId',
        /line of our statement/,
      ],
      [{ lines: [{ label: 'x', lineId: 'payable/Au', quantity: '1' }] }, '/lines/0/amount', /is money/],
      [{ lines: [{ label: 'x', lineId: 'assays/Au', amount: '1' }] }, '/lines/0/lineId', /in g\/t/],
      [
        { lines: [{ label: 'x', lineId: 'payable/Au', amount: '1.005' }] },
        '/lines/0/amount',
        /at most 2 decimals/,
      ],
      [{ lines: [{ label: 'x' }] }, '/lines/0/amount', /must be given/],
      [{ lines: [{ label: '', amount: '1' }] }, '/lines/0/label', /empty/],
      [
        {
          lines: [
            { label: 'x', lineId: 'assays/Au', quantity: '1' },
            { label: 'y', lineId: 'assays/Au', quantity: '2' },
          ],
        },
        '/lines/1/lineId',
        /two lines/,
      ],
      [{ total: '12.345' }, '/total', /at most 2 decimals/],
      [{ total: 'much' }, '/total', /number/],
      [{ number: '' }, '/number', /empty/],
      [{ datedOn: '2026-02-30' }, '/datedOn', /YYYY-MM-DD/],
    ];
    for (const [change, pointer, says] of cases) {
      const { status, body } = await send('POST', '/buyer-statements', { ...entry, ...change });
      expect([status, body.errors?.[0]?.pointer], pointer).toEqual([422, pointer]);
      expect(body.errors[0].detail).toMatch(says);
    }
    const nowhere = { ...entry, statementId: '00000000-0000-4000-8000-000000000000' };
    expect((await send('POST', '/buyer-statements', nowhere)).status).toBe(404);
    expect(await send('GET', `/buyer-statements?statementId=${entry.statementId}`)).toMatchObject({
      body: [],
    });
  });

  it('keeps the draft that it is held against from being thrown away', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const { enter, send } = mill;
    const { entry } = await soldParcel(mill);
    const draft = await enter('POST', '/statements', entry);
    const kept = await enter('POST', '/buyer-statements', {
      statementId: draft.id,
      number: '1',
      datedOn: '2026-06-20',
      lines: [{ label: 'Gold', lineId: 'payable/Au', amount: '10.00' }],
      total: '10.00',
    });
    expect((await send('DELETE', `/statements/${draft.id}`)).status).toBe(409);
    // A draft may still be changed; a line of ours that is gone answers to nothing from then on.
    const assays = entry.assays.map((assay) => (assay.element === 'Au' ? { ...assay, own: '400' } : assay));
    await enter('PUT', `/statements/${draft.id}`, { ...entry, assays, version: draft.version });
    expect((await send('GET', `/buyer-statements/${kept.id}/comparison`)).status).toBe(200);
    expect((await send('DELETE', `/buyer-statements/${kept.id}`)).status).toBe(204);
    expect((await send('DELETE', `/statements/${draft.id}`)).status).toBe(204);
  });
});

describeOnEveryEngine('a table of their lines', (open) => {
  async function reader() {
    const { db } = await open();
    const mill = await smallMill(db);
    const { entry } = await soldParcel(mill);
    const ours = await issue(mill, entry, '2026-06-09');
    const app = createApp({ db, now: () => new Date('2026-09-01T12:00:00Z') });
    const read = async (text: string, contentType = 'text/csv') => {
      const response = await app.request(`/api/buyer-statements/read?statementId=${ours.id}`, {
        method: 'POST',
        headers: { 'content-type': contentType },
        body: text,
      });
      const body: Answer['body'] = await response.json();
      return { status: response.status, body };
    };
    return { ...mill, ours, read };
  }

  it('is read with commas, and its lines matched to ours', async () => {
    const { read, ours } = await reader();
    const freight = ours.settlement.lines.find(
      (line: { id: string }) => line.id === 'charges/freight',
    ).amount;
    const { body } = await read(
      [
        'Label,Quantity,Amount',
        'Payables,,',
        'Gold paid,2.110,5063.90',
        '"Haulage, road",,' + freight,
        'Weighbridge,,-35.00',
        'Dry mass,191,',
        'Total,,4900.10',
        '',
      ].join('\r\n'),
    );
    expect(body).toEqual({
      lines: [
        {
          row: 3,
          label: 'Gold paid',
          quantity: '2.110',
          amount: '5063.90',
          lineId: 'payable/Au',
          by: 'words',
        },
        {
          row: 4,
          label: 'Haulage, road',
          quantity: null,
          amount: freight,
          lineId: 'charges/freight',
          by: 'amount',
        },
        { row: 5, label: 'Weighbridge', quantity: null, amount: '-35.00', lineId: null, by: null },
        { row: 6, label: 'Dry mass', quantity: '191', amount: null, lineId: 'weights/dry', by: 'label' },
      ],
      total: '4900.10',
      leftOut: ['Payables'],
      problems: [],
      problemCount: 0,
    });
  });

  it('has decimal commas only where the settings say so', async () => {
    const { enter, read } = await reader();
    const table = 'label;amount\nFreight;-12,50\n';
    const refused = await read(table);
    expect(refused.body).toMatchObject({
      lines: [],
      problemCount: 1,
      problems: [{ row: 2, column: 'amount' }],
    });
    expect(refused.body.problems[0].message).toMatch(/decimal point/);
    const settings = await enter('GET', '/mill');
    await enter('PUT', '/mill', { ...settings, decimalComma: true });
    const taken = await read(table);
    expect(taken.body).toMatchObject({ problemCount: 0, lines: [{ label: 'Freight', amount: '-12.50' }] });
    expect((await read('label,amount\nFreight,"-1.234,50"\n')).body.problems[0].message).toMatch(/grouping/);
  });

  it('says what is wrong with it', async () => {
    const { read } = await reader();
    expect((await read('text,amount\nFreight,1\n')).body.problems).toMatchObject([
      { column: 'text', message: expect.stringContaining('nearest') },
      { column: 'label', message: expect.stringContaining('missing') },
    ]);
    expect((await read('label,amount\nTotal,1\nTotal,2\n')).body.problems).toMatchObject([
      { row: 3, message: 'There is a second total.' },
    ]);
    expect((await read('label,amount\n,5\n')).body).toMatchObject({ lines: [], problemCount: 1 });
    expect((await read('label,amount\nx,1\n', 'text/plain')).status).toBe(415);
    expect((await read('')).status).toBe(422);
    const long = `label,amount\n${'x,1\n'.repeat(401)}`;
    expect((await read(long)).body.detail).toMatch(/401 rows/);
  });
});
