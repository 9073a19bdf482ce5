import { sql } from 'kysely';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { createApp } from '../../api/app.ts';
import {
  importLine,
  previewLine,
  type ImportKind,
  type ImportLine,
  type PreviewLine,
} from '../../api/schemas/import.ts';
import { newSupply } from '../../api/schemas/supply.ts';
import { newTreatment } from '../../api/schemas/treatment.ts';
import type { OpenDatabase } from '../../db/open.ts';
import { listLots } from '../../db/queries/lots.ts';
import { ensureMill, findMill, updateMill } from '../../db/queries/mill.ts';
import { insertBalance } from '../../db/queries/balances.ts';
import { forgetDeadImports, stageRows } from '../../db/queries/import-rows.ts';
import { insertSupply } from '../../db/queries/supplies.ts';
import { listTrials } from '../../db/queries/test-smelts.ts';
import { insertTreatment } from '../../db/queries/treatments.ts';
import { describeOnEveryEngine } from '../support/engines.ts';

const lotHeader = 'code,made_on,wet_mass_kg,moisture_percent,pyrite_percent,remarks';
const smeltHeader =
  'lot,trial,treatment,sample,smelted_on,sample_mass_g,roasted,bead_mg,reagent:Borax_g,balance,bead_balance';
const quotationHeader = 'metal,quoted_on,price,currency,unit,source';

/** One quotation a day from 1900 on. */
const quotations = (count: number, metal: string): string => {
  const rows = Array.from({ length: count }, (_, at) => {
    const day = new Date(Date.UTC(1900, 0, 1) + at * 86_400_000).toISOString().slice(0, 10);
    return `${metal},${day},${1000 + at}.25,USD,ozt,"Invented, for a test"`;
  });
  return `${quotationHeader}\r\n${rows.join('\r\n')}\r\n`;
};

describeOnEveryEngine('imports', (open) => {
  let opened: OpenDatabase;
  let app: ReturnType<typeof createApp>;

  beforeAll(async () => {
    opened = await open();
    const { db } = opened;
    app = createApp({ db, now: () => new Date('2026-07-01T12:00:00Z') });
    await ensureMill(db, 2026);
    for (const name of ['Bench scale', 'Bead scale'])
      await insertBalance(db, { name, readabilityG: '0.01', repeatabilityG: '0.01' });
    for (const name of ['Borax', 'Soda ash'])
      await insertSupply(db, newSupply.parse({ name, kind: 'reagent', unit: 'kg' }));
    const treatment = newTreatment.parse({
      name: 'Roast and smelt',
      roast: true,
      recipe: [],
      chargeSizeKg: 5,
      roastHoursPerCharge: 2,
      furnaceHoursPerCharge: 1,
      labourHoursPerCharge: 3,
      labourSupplyId: null,
      fuelSupplyId: null,
      fuelPerCharge: 0,
      crucibleSupplyId: null,
      crucibleLifeCharges: 10,
      leadReturnLowFrac: 0.7,
      leadReturnModeFrac: 0.8,
      leadReturnHighFrac: 0.9,
      goldRecoveryMeanFrac: 0.9,
      goldRecoverySdFrac: 0.05,
      silverRecoveryMeanFrac: 0.8,
      silverRecoverySdFrac: 0.05,
      doreFinenessFrac: 0.95,
      wasteCostPerKg: '0',
      daysUntilBar: 3,
    });
    await insertTreatment(db, treatment);
  }, 120_000);

  const post = (path: string, body: string | Uint8Array<ArrayBuffer>, type = 'text/csv') =>
    app.request(`/api/imports/${path}`, { method: 'POST', body, headers: { 'content-type': type } });

  async function lines(response: Response): Promise<unknown[]> {
    expect(response.status).toBe(200);
    expect(response.headers.get('content-type')).toBe('application/x-ndjson');
    const text = await response.text();
    expect(text.endsWith('\n')).toBe(true);
    return text
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as unknown);
  }

  async function importFile(kind: ImportKind, body: string | Uint8Array<ArrayBuffer>) {
    const all = (await lines(await post(`${kind}?fileName=a.csv`, body))).map((line) =>
      importLine.parse(line),
    );
    return { told: progressOf(all), ...lastOf(all) };
  }

  async function preview(kind: ImportKind, body: string) {
    const all = (await lines(await post(`${kind}/preview?fileName=a.csv`, body))).map((line) =>
      previewLine.parse(line),
    );
    return { told: progressOf(all), ...lastOf(all) };
  }

  function progressOf(all: (ImportLine | PreviewLine)[]) {
    return all.slice(0, -1).map((line) => ('progress' in line ? line.progress : expect.fail()));
  }

  function lastOf<L extends ImportLine | PreviewLine>(all: L[]) {
    const last = all.at(-1);
    return last !== undefined && !('progress' in last) ? last : expect.fail();
  }

  describe('of lots', () => {
    const file = `${lotHeader}\nL-1,2026-06-02,182.50,7.2,58,"washed, twice"\nL-2,2026-06-09,41.3,5,,\n`;

    it('say first what they would do, then do it, and do it once', async () => {
      const before = await preview('lots', file);
      expect(before).toMatchObject({
        result: {
          kind: 'lots',
          fileName: 'a.csv',
          separator: ',',
          columns: lotHeader.split(','),
          counts: { rows: 2, new: 2, unchanged: 0, conflict: 0, faulty: 0 },
          rows: [
            {
              row: 2,
              state: 'new',
              values: { code: 'L-1', made_on: '2026-06-02', wet_mass_kg: '182.5', moisture_percent: '7.2' },
            },
            { row: 3, state: 'new', values: { pyrite_percent: '', remarks: '' } },
          ],
          problems: [],
          problemCount: 0,
          notes: [],
        },
      });
      expect(await listLots(opened.db)).toEqual([]);

      expect(await importFile('lots', file)).toMatchObject({ result: { rowsAdded: 2, rowsUnchanged: 0 } });
      const lots = await listLots(opened.db);
      expect(lots).toMatchObject([
        {
          code: 'L-1',
          madeOn: '2026-06-02',
          wetMassKg: '182.50',
          moistureFrac: '0.072',
          minerals: [{ mineral: 'pyrite', massFrac: '0.58' }],
          remarks: 'washed, twice',
          dryMassKg: '169.36',
        },
        { code: 'L-2', minerals: [] },
      ]);

      expect(await preview('lots', file)).toMatchObject({
        result: {
          counts: { rows: 2, new: 0, unchanged: 2 },
          notes: [expect.stringMatching(/^The same file was imported on \d{4}-\d\d-\d\d as a\.csv\.$/)],
        },
      });
      expect(await importFile('lots', file)).toMatchObject({ result: { rowsAdded: 0, rowsUnchanged: 2 } });
      expect(await listLots(opened.db)).toEqual(lots);
    });

    it('are all or nothing', async () => {
      const mixed = `${lotHeader}\nL-3,2026-06-10,10,5,,\nL-1,2026-06-02,182.5,7.3,0,\nL-4,2027-01-01,10,5,,\n`;
      const { result } = (await preview('lots', mixed)) as { result: { problems: object[] } };
      expect(result).toMatchObject({
        counts: { rows: 3, new: 1, unchanged: 0, conflict: 1, faulty: 1 },
        problems: [
          {
            row: 3,
            column: 'moisture_percent',
            value: '7.3',
            message: /^Lot L-1 is already recorded with 7\.2/,
          },
          { row: 3, column: 'pyrite_percent', value: '0', message: /^Lot L-1 is already recorded with 58/ },
          { row: 4, column: 'made_on', message: /^Must be a day of a season/ },
        ].map((problem) => ({ ...problem, message: expect.stringMatching(problem.message) })),
        problemCount: 3,
      });
      const refused = await importFile('lots', mixed);
      expect(refused).toMatchObject({
        problem: {
          type: '/problems/validation',
          status: 422,
          detail: '3 problems were found in the file. Nothing was imported.',
          preview: result,
        },
      });
      expect((await listLots(opened.db)).map(({ code }) => code)).toEqual(['L-1', 'L-2']);
    });

    it('are read as the settings have files', async () => {
      const mill = await findMill(opened.db);
      const german =
        'sep=;\r\nCode;Made on;Wet mass kg;Moisture percent;;\r\nL-5;01.07.2026;12,5;3,25;;\r\n;;;;;\r\n';
      expect(await preview('lots', german)).toMatchObject({ result: { problemCount: 3 } });
      const { isDemo: _isDemo, ...settings } = mill;
      await updateMill(opened.db, { ...settings, importDateOrder: 'day-month-year', decimalComma: true });
      expect(await importFile('lots', german)).toMatchObject({ result: { rowsAdded: 1 } });
      await updateMill(opened.db, { ...settings, version: mill.version + 1 });
      expect((await listLots(opened.db)).find(({ code }) => code === 'L-5')).toMatchObject({
        madeOn: '2026-07-01',
        wetMassKg: '12.5',
        moistureFrac: '0.0325',
      });
    });
  });

  describe('of test smelts', () => {
    const row = (sample: string, more = 'Roast and smelt', bead = '7.85', trial = 'Roasted') =>
      `L-1,${trial},${more},${sample},2026-06-12,50,yes,${bead},20.5,Bench scale,Bead scale`;
    const file = [smeltHeader, row('R1', ''), row('R2'), row('P1', '', '', 'Plain')].join('\r\n');

    it('open the trials that are not there, in the same transaction', async () => {
      expect(await preview('test-smelts', file)).toMatchObject({
        result: {
          counts: { new: 3 },
          rows: [{ values: { lot: 'L-1', 'reagent:Borax_g': '20.5', treatment: '' } }, {}, {}],
          notes: ['2 trials are opened: Roasted on lot L-1; Plain on lot L-1.'],
        },
      });
      const refused = await importFile('test-smelts', `${file}\r\n${row('R3').replace('Bench', 'Bank')}`);
      expect(refused).toMatchObject({ problem: { preview: { problemCount: 1 } } });
      expect(await listTrials(opened.db)).toEqual([]);

      expect(await importFile('test-smelts', file)).toMatchObject({ result: { rowsAdded: 3 } });
      const [plain, roasted] = await listTrials(opened.db);
      expect(plain).toMatchObject({
        name: 'Plain',
        treatmentId: null,
        smelts: [{ sample: 'P1', beadMg: null }],
      });
      expect(roasted).toMatchObject({
        name: 'Roasted',
        treatmentId: expect.any(String),
        smelts: [
          { sample: 'R1', beadMg: 7.85, reagents: [{ massG: 20.5 }] },
          { sample: 'R2', roasted: true, sampleMassG: 50 },
        ],
      });
    });

    it('add to a trial, leave what is there, and change neither trial nor test', async () => {
      expect(await importFile('test-smelts', `${file}\r\n${row('R4')}`)).toMatchObject({
        result: { rowsAdded: 1, rowsUnchanged: 3 },
      });
      const trials = await listTrials(opened.db);
      const other = [
        smeltHeader,
        row('R1', '', '7.86'),
        row('R2', '', ''),
        row('P2', 'Roast and smelt', '', 'Plain'),
      ].join('\n');
      expect(await importFile('test-smelts', other)).toMatchObject({
        problem: {
          preview: {
            counts: { new: 0, unchanged: 1, conflict: 2 },
            problems: [
              {
                row: 2,
                column: 'bead_mg',
                message: expect.stringMatching(
                  /^Sample R1 of the trial Roasted on lot L-1 .* with 7\.85 here/,
                ),
              },
              {
                row: 4,
                column: 'treatment',
                message: expect.stringMatching(
                  /^The trial Plain on lot L-1 is already recorded without a value/,
                ),
              },
            ],
          },
        },
      });
      expect(await listTrials(opened.db)).toEqual(trials);
    });
  });

  describe('of quotations', () => {
    const file = quotations(50_000, 'Au');

    it('tell their progress, and add fifty thousand once', async () => {
      const first = await importFile('quotations', file);
      expect(first).toMatchObject({ result: { kind: 'quotations', rowsAdded: 50_000, rowsUnchanged: 0 } });
      expect([...new Set(first.told.map(({ step }) => step))]).toEqual(['reading', 'writing']);
      for (const step of ['reading', 'writing']) {
        const told = first.told.filter((progress) => progress.step === step);
        expect(told.length).toBeGreaterThan(5);
        expect(told.map(({ done }) => done)).toEqual(told.map(({ done }) => done).sort((a, b) => a - b));
        expect(told.at(-1)).toMatchObject({
          done: step === 'reading' ? file.length : 50_000,
          of: told[0]?.of,
        });
      }
      const again = await importFile('quotations', file);
      expect(again).toMatchObject({ result: { rowsAdded: 0, rowsUnchanged: 50_000 } });
      const { rows } = await sql`select count(*)::int4 as count, sum(price) as sum from quotation`.execute(
        opened.db,
      );
      expect(rows).toEqual([{ count: 50_000, sum: '1299987500.00' }]);
    }, 120_000);

    it('are one record a key, though two send them at once', async () => {
      const both = await Promise.all([1, 2].map(() => importFile('quotations', quotations(3000, 'Ag'))));
      const added = both.map((one) => ('result' in one ? one.result.rowsAdded : expect.fail()));
      expect(added.sort((a, b) => a - b)).toEqual([0, 3000]);
    }, 60_000);

    it('let others be answered while a file is read, and read it again when what it rests on was changed', async () => {
      const response = await post('quotations?fileName=a.csv', quotations(12_000, 'Pt'));
      const reader = response.body?.getReader() ?? expect.fail();
      const heard: string[] = [];
      let answered = 0;
      for (;;) {
        const { value, done } = await reader.read();
        if (done) break;
        const text = new TextDecoder().decode(value);
        heard.push(...text.trimEnd().split('\n'));
        if (!text.includes('"reading"') || answered > 0) continue;
        // No transaction of the import is open: others write, and what they write counts.
        const put = await app.request('/api/quotations', {
          method: 'PUT',
          headers: { 'content-type': 'application/json' },
          body: JSON.stringify({
            metal: 'Pt',
            quotedOn: '1900-01-02',
            price: '1001.25',
            currency: 'USD',
            unit: 'ozt',
            source: 'Invented, for a test',
          }),
        });
        expect(put.status).toBeLessThan(300);
        answered += 1;
        expect(heard.join()).not.toContain('"result"');
      }
      expect(answered).toBe(1);
      expect(JSON.parse(heard.at(-1) ?? '')).toMatchObject({
        result: { rowsAdded: 11_999, rowsUnchanged: 1 },
      });
      expect(heard.filter((line) => line.includes(`"done":0`) && line.includes('writing'))).toHaveLength(1);
    }, 60_000);

    it('of a program that died are taken away, of others that still read are left', async () => {
      const { db } = opened;
      const [dead, alive] = [crypto.randomUUID(), crypto.randomUUID()];
      for (const importId of [dead, alive])
        await stageRows(db, { importId, place: 0, entries: [{ a: 1 }, { a: 2 }] });
      await sql`update import_row set staged_at = now() - interval '2 hours' where import_id = ${dead}`.execute(
        db,
      );
      await importFile('quotations', quotations(1, 'Rh'));
      const left = await db.selectFrom('importRow').select('importId').distinct().execute();
      expect(left).toEqual([{ importId: alive }]);
      await forgetDeadImports(db, { isAlone: true });
      expect(await db.selectFrom('importRow').selectAll().execute()).toEqual([]);
    });

    it('leave nothing behind when the sender goes away', async () => {
      const response = await post('quotations?fileName=a.csv', quotations(20_000, 'Pd'));
      const reader = response.body?.getReader() ?? expect.fail();
      for (let text = ''; !text.includes('"writing"');) {
        const { value, done } = await reader.read();
        if (done) expect.fail('the import ended before it was left');
        text = new TextDecoder().decode(value);
      }
      await reader.cancel();
      await vi.waitFor(async () => {
        const { rows } = await sql`select 1 from pg_locks join pg_class on pg_class.oid = relation
          where relname = 'imported_file' and mode = 'ShareRowExclusiveLock'`.execute(opened.db);
        expect(rows).toEqual([]);
      }, 30_000);
      expect(await opened.db.selectFrom('quotation').where('metal', '=', 'Pd').selectAll().execute()).toEqual(
        [],
      );
      await vi.waitFor(async () =>
        expect(await opened.db.selectFrom('importRow').selectAll().execute()).toEqual([]),
      );
    }, 60_000);
  });

  it('are listed, newest first', async () => {
    const response = await app.request('/api/imports');
    const files = (await response.json()) as { kind: string }[];
    expect(files).toHaveLength(11);
    expect(files[0]).toMatchObject({
      kind: 'quotations',
      fileName: 'a.csv',
      sha256: expect.stringMatching(/^[\da-f]{64}$/),
    });
  });

  it('begin with a template, which can be imported as it is', async () => {
    const templateOf = async (kind: string): Promise<string> => {
      const response = await app.request(`/api/imports/templates/${kind}`);
      expect(response.headers.get('content-type')).toBe('text/csv; charset=utf-8');
      expect(response.headers.get('content-disposition')).toBe(`attachment; filename="${kind}.csv"`);
      const bytes = await response.arrayBuffer();
      return new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
    };
    for (const kind of ['lots', 'test-smelts'] as const)
      expect(await importFile(kind, await templateOf(kind))).toMatchObject({ result: { rowsAdded: 2 } });
    expect(await templateOf('test-smelts')).toContain(',reagent:Borax_g,reagent:Soda ash_g,');
    expect((await app.request('/api/imports/templates/beads')).status).toBe(422);
  });

  describe('of what is no such file', () => {
    it('are refused before anything is read', async () => {
      const tooLarge = await post('lots?fileName=a.csv', new Uint8Array(20 * 1024 * 1024 + 1));
      expect(tooLarge.status).toBe(413);
      expect(await tooLarge.json()).toMatchObject({ detail: expect.stringContaining('larger than 20 MiB') });
      expect((await post('lots?fileName=a.csv', lotHeader, 'application/json')).status).toBe(415);
      expect((await post('beads?fileName=a.csv', lotHeader)).status).toBe(422);
      expect((await post('lots', lotHeader)).status).toBe(422);
    });

    it.each<[string, Uint8Array<ArrayBuffer>, string]>([
      ['nothing', new Uint8Array(0), 'The file is empty.'],
      [
        'UTF-16',
        Uint8Array.from(Buffer.from(`\ufeff${lotHeader}`, 'utf16le')),
        'The file is text in UTF-16.',
      ],
      [
        'too many rows',
        Uint8Array.from(Buffer.from('code\n'.repeat(200_002))),
        'The file has more than 200000 rows.',
      ],
    ])('end with a problem when it is %s', async (_, bytes, detail) => {
      expect(await importFile('lots', bytes)).toMatchObject({
        problem: { status: 422, detail: expect.stringContaining(detail), preview: null },
      });
    });

    it('tell the sender nothing of the inside when they break', async () => {
      const written = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
      await sql`alter table imported_file rename to hidden_away`.execute(opened.db);
      const broken = await importFile('lots', `${lotHeader}\nL-9,2026-06-02,5,7,,\n`);
      await sql`alter table hidden_away rename to imported_file`.execute(opened.db);
      expect(broken).toMatchObject({ problem: { type: '/problems/internal', status: 500, preview: null } });
      expect(JSON.stringify(broken)).not.toContain('imported_file');
      expect(String(written.mock.calls[0]?.[0])).toContain('imported_file');
    });
  });
});
