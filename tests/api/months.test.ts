import { sql, type Kysely } from 'kysely';
import { expect, it } from 'vitest';
import type { Report, TableBlock } from '../../reports/model/report.ts';
import type { Months } from '../../api/schemas/month.ts';
import type { Database } from '../../db/schema.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { millApi, smallMill } from '../support/mill.ts';
import { wordsOf } from '../reports/pdf/report-words.ts';
import {
  checkSound,
  fontsOf,
  infoOf,
  pageSizesOf,
  pdfToolsMissing,
  textInOrder,
  withoutBlanks,
} from '../reports/pdf-tools.ts';

const tableOf = (report: Report, caption: string): TableBlock => {
  const found = report.blocks.find((block) => block.kind === 'table' && block.caption.startsWith(caption));
  if (found?.kind !== 'table') throw new Error(`no table ${caption}`);
  return found;
};
/** The cells of a row, by the words in its first column. */
const rowOf = (report: Report, caption: string, first: string): Record<string, string> => {
  const { columns, rows } = tableOf(report, caption);
  const row = rows.find(({ cells }) => cells[columns[0]?.key ?? ''] === first);
  if (row === undefined) throw new Error(`no row ${first} in ${caption}`);
  return row.cells;
};
const hasCorrections = (report: Report): boolean =>
  report.blocks.some((block) => block.kind === 'table' && block.caption.startsWith('Corrections'));

/**
 * June of the small mill, worked by hand (invented figures). A day: 10 t wet at 5 % are 9.5 t dry; 40 kg wet at 10 %
 * are 36 kg; 12 kg of propane at 2 are 24; 16 hours at 25 are 400. A batch of 50 kg: 30 kg of soda ash at 1.40 are 42,
 * 10 hours at 25 are 250, 20 kg of lead less 18 back at 3 are 6: 298. Rent 100. In all 424 + 298 + 100 = 822. The bar:
 * 25 g at 900 fine is 22.5 g of gold; 822 ÷ (22.5 ÷ 31.1034768) = 1136.31 an ounce; 822 ÷ 0.05 t = 16440 a tonne.
 */
async function invented(db: Kysely<Database>) {
  const mill = await smallMill(db);
  const { enter, supplies, seasonId, treatmentId, refinerTermsId } = mill;
  const day = {
    day: '2026-06-02',
    feedQuantity: '10',
    feedUnit: 't',
    feedTonnesPerUnit: '1',
    feedMoistureFrac: '0.05',
    concentrateWetKg: '40',
    concentrateMoistureFrac: '0.1',
    hoursRun: '8',
    supplies: [{ supplyId: supplies.fuel, quantity: '12' }],
    labour: ['Ann', 'Bo'].map((person) => ({ person, supplyId: supplies.wage, hours: '8' })),
  };
  const kept = await enter('POST', '/days', day);
  const lot = await enter('POST', '/lots', {
    seasonId,
    code: 'H-1',
    madeOn: '2026-06-03',
    wetMassKg: '100',
    moistureFrac: '0',
  });
  for (const [element, value] of [
    ['Au', '500'],
    ['Ag', '100'],
  ])
    await enter('POST', `/lots/${lot.id}/lab-assays`, {
      laboratory: 'Invented laboratory',
      assayedOn: '2026-06-04',
      element,
      unit: 'g/t',
      value,
    });
  const planned = await enter('POST', '/batches', {
    code: 'B-1',
    lotId: lot.id,
    treatmentId,
    termsId: refinerTermsId,
    plannedOn: '2026-06-05',
    dryMassKg: '50',
    assumptions: { drawCount: 500 },
  });
  const actuals = {
    status: 'done',
    startedOn: '2026-06-10',
    finishedOn: '2026-06-11',
    furnaceHours: '7',
    labourHours: '10',
    leadInKg: '20',
    leadBackKg: '18',
    consumption: [{ supplyId: supplies.soda, quantity: '30' }],
    remarks: '',
  };
  const batch = await enter('PUT', `/batches/${planned.id}`, { ...actuals, version: planned.version });
  const bar = await enter('POST', `/batches/${batch.id}/products`, {
    code: 'BAR-1',
    kind: 'bar',
    madeOn: '2026-06-11',
    massKg: '0.025',
    goldFinenessFrac: '0.9',
    silverFinenessFrac: '0.05',
  });
  const rent = (on: string, amount: string) =>
    enter('POST', '/expenses', { spentOn: on, kind: 'rent', amount, currency: 'USD' });
  await rent('2026-06-30', '100');
  await rent('2026-07-15', '70');
  return { ...mill, day: { ...day, ...kept }, actuals, batch, bar };
}

describeOnEveryEngine('the production report of a month', (open) => {
  it('comes to what was worked by hand, and its metal account can be added up', async () => {
    const { db } = await open();
    const { enter, send } = await invented(db);
    const june: Report = await enter('GET', '/months/2026-06/report');
    expect(rowOf(june, 'Result', 'Costs')).toMatchObject({ month: '−822.00', year: '−822.00' });
    expect(rowOf(june, 'Result', 'Costs per dry tonne treated in batches').month).toBe('16,440.00');
    expect(rowOf(june, 'Result', 'Costs per troy ounce of gold made in bars and beads').month).toBe(
      '1,136.31',
    );
    expect(rowOf(june, 'Feed', 'Feed, t dry').month).toBe('9.5');
    expect(rowOf(june, 'Feed', 'Concentrate made, kg dry').month).toBe('36.0');
    expect(rowOf(june, 'Costs', 'Fuel')).toMatchObject({ days: '24.00', batches: '0.00', month: '24.00' });
    expect(rowOf(june, 'Costs', 'Wages')).toMatchObject({
      days: '400.00',
      batches: '250.00',
      month: '650.00',
    });
    expect(rowOf(june, 'Costs', 'Lead in, less lead back').month).toBe('6.00');
    expect(rowOf(june, 'Costs', 'All costs')).toMatchObject({
      days: '424.00',
      batches: '298.00',
      other: '100.00',
      month: '822.00',
    });
    // 22.5 g are 0.72 ozt; half of 100 kg at about 500 g/t stays in the lot, the other half went in.
    expect(rowOf(june, 'Metal made', 'Made: bars, beads and buttons').gold).toBe('0.72');
    expect(Number.parseFloat(rowOf(june, 'Batches finished', 'B-1').out ?? '')).toBe(0.72);
    const account = (first: string) =>
      Number.parseFloat((rowOf(june, 'Metal account', first).gold ?? '').replace('−', '-'));
    expect(account('In: lots made or bought')).toBeCloseTo(50 / 31.1034768, 1);
    expect(account('Closing: in lots')).toBeCloseTo(25 / 31.1034768, 1);
    expect(account('So there must be')).toBeCloseTo(
      account('Opening: in lots') + account('In: lots made or bought'),
      9,
    );
    expect(account('Unaccounted')).toBeCloseTo(account('So there is') - account('So there must be'), 9);
    const july: Report = await enter('GET', '/months/2026-07/report');
    expect(rowOf(july, 'Result', 'Costs')).toMatchObject({ month: '−70.00', year: '−892.00' });
    if (!pdfToolsMissing()) {
      for (const [paper, size] of [
        ['A4', '595.28 x 841.89 pts (A4)'],
        ['Letter', '612 x 792 pts (letter)'],
      ]) {
        await enter('PUT', '/mill', { ...(await enter('GET', '/mill')), paper });
        const bytes = Buffer.from((await send('GET', '/months/2026-06/report.pdf')).body);
        checkSound(bytes);
        expect(infoOf(bytes)).toMatchObject({ Tagged: 'yes' });
        expect(new Set(pageSizesOf(bytes))).toEqual(new Set([size]));
        const fonts = fontsOf(bytes);
        expect(fonts.length).toBeGreaterThanOrEqual(3);
        for (const font of fonts)
          expect(font).toMatch(/Source(Sans3|Serif4)-\w+ +CID TrueType +Identity-H +yes yes yes/);
        const text = textInOrder(bytes);
        for (const words of wordsOf(june)) expect(text, `${paper}: ${words}`).toContain(withoutBlanks(words));
      }
    }
  });

  it('stays as it was closed; what changes in it later shows in the month in which it is changed, once', async () => {
    const { db } = await open();
    const { enter, send, batch, actuals, day, bar, supplies } = await invented(db);
    const refusal = async (month: string) => (await send('POST', `/months/${month}/close`)).body.detail;
    expect(await refusal('2026-07')).toContain('before June 2026');
    expect(await refusal('2026-09')).toContain('not over yet');
    const before: Report = await enter('GET', '/months/2026-06/report');
    const closed: Report = await enter('POST', '/months/2026-06/close');
    expect(closed.subtitle).toContain('closed on 1 Sep 2026');
    expect(closed.blocks).toEqual(before.blocks);
    expect(await refusal('2026-06')).toContain('was closed');
    await enter('POST', '/months/2026-07/close');

    // 10 kg more of soda ash are 14.00; an hour more of a person is 25.00; without its bar the month has 22.5 g less.
    await enter('PUT', `/batches/${batch.id}`, {
      ...actuals,
      consumption: [{ supplyId: supplies.soda, quantity: '40' }],
      version: batch.version,
    });
    const { id: dayId, version: dayVersion, ...dayFields } = day;
    await enter('PUT', `/days/${dayId}`, {
      ...dayFields,
      labour: [...day.labour, { person: 'Cy', supplyId: supplies.wage, hours: '1' }],
      version: dayVersion,
    });
    await enter('DELETE', `/products/${bar.id}`);
    expect(await enter('GET', '/months/2026-06/report')).toEqual(closed);

    const september: Report = await enter('GET', '/months/2026-09/report');
    expect(rowOf(september, 'Result', 'Costs')).toMatchObject({ month: '−39.00', year: '−931.00' });
    const corrected = tableOf(september, 'Corrections of closed months');
    expect(corrected.rows.map(({ cells }) => [cells.label, cells.figure, cells.difference])).toEqual(
      expect.arrayContaining([
        ['Batch B-1, Soda ash', 'cost', '14.00'],
        ['Day 2026-06-02, Wage', 'cost', '25.00'],
        ['BAR-1', 'bar made, gold, g', '−22.50'],
      ]),
    );
    expect(corrected.rows.some(({ detail }) => detail?.startsWith('Changed on 1 Sep 2026') === true)).toBe(
      true,
    );
    expect(hasCorrections(await enter('GET', '/months/2026-08/report'))).toBe(false);

    const { months }: Months = await enter('GET', '/months?year=2026');
    expect(months.reduce((sum, { costs }) => sum + Number(costs), 0)).toBeCloseTo(822 + 70 + 39, 9);
    expect(months.find(({ month }) => month === '2026-09')?.corrections).toBeGreaterThan(3);
  });

  it('freezes corrections with the month that shows them, and tells later ones against both', async () => {
    const { db } = await open();
    const { enter, batch, actuals, supplies } = await invented(db);
    await enter('POST', '/months/2026-06/close');
    const use = (quantity: string, version: number) =>
      enter('PUT', `/batches/${batch.id}`, {
        ...actuals,
        consumption: [{ supplyId: supplies.soda, quantity }],
        version,
      });
    const changed = await use('40', batch.version);
    // As if it had been changed before the trail began: then it shows in the first month that is open.
    await forgetWhen(db);
    const july: Report = await enter('GET', '/months/2026-07/report');
    expect(rowOf(july, 'Result', 'Costs').month).toBe('−84.00');
    await enter('POST', '/months/2026-07/close');

    await use('50', changed.version);
    await forgetWhen(db);
    const august: Report = await enter('GET', '/months/2026-08/report');
    expect(rowOf(august, 'Corrections', 'Batch B-1, Soda ash')).toMatchObject({
      corrects: 'June 2026',
      was: '56.00',
      is: '70.00',
      difference: '14.00',
    });
    expect(rowOf(august, 'Result', 'Costs')).toMatchObject({ month: '−14.00', year: '−920.00' });
    expect(rowOf(await enter('GET', '/months/2026-07/report'), 'Result', 'Costs').month).toBe('−84.00');
    const october = millApi(db, '2026-10-02');
    // August and September have nothing of their own: they are closed along, the corrections with them.
    await october.enter('POST', '/months/2026-09/close');
    const later: Months = await october.enter('GET', '/months?year=2026');
    expect(later.months.filter(({ closed }) => closed !== null).map(({ month }) => month)).toEqual([
      '2026-09',
      '2026-08',
      '2026-07',
      '2026-06',
    ]);
    expect(later.months.reduce((sum, { costs }) => sum + Number(costs), 0)).toBeCloseTo(822 + 70 + 28, 9);
  });
});

async function forgetWhen(db: Kysely<Database>): Promise<void> {
  await sql`alter table audit_entry disable trigger user`.execute(db);
  await sql`update audit_entry set at = '2020-01-01'`.execute(db);
  await sql`alter table audit_entry enable trigger user`.execute(db);
}
