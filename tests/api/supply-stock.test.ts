import { expect, it } from 'vitest';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

const CHANGED = '/problems/changed-since';

/** A lot and a batch of 100 kg of it, finished on a day with what it used. */
async function workedBatch(mill: Awaited<ReturnType<typeof smallMill>>) {
  const { enter, supplies } = mill;
  const lot = await enter('POST', '/lots', {
    seasonId: mill.seasonId,
    code: 'L-1',
    madeOn: '2026-05-20',
    wetMassKg: '400',
    moistureFrac: '0',
    minerals: [{ mineral: 'pyrite', massFrac: '0.4' }],
  });
  await enter('POST', `/lots/${lot.id}/lab-assays`, {
    laboratory: 'Invented laboratory',
    assayedOn: '2026-05-22',
    element: 'Au',
    unit: 'g/t',
    value: '400',
  });
  const batch = await enter('POST', '/batches', {
    code: 'B-1',
    lotId: lot.id,
    treatmentId: mill.treatmentId,
    termsId: mill.refinerTermsId,
    plannedOn: '2026-06-05',
    dryMassKg: '100',
    assumptions: {},
  });
  const worked = {
    status: 'done',
    startedOn: '2026-06-08',
    finishedOn: '2026-06-10',
    furnaceHours: '15',
    labourHours: '20',
    leadInKg: '40',
    leadBackKg: '36',
    consumption: [
      { supplyId: supplies.soda, quantity: '60' },
      { supplyId: supplies.fuel, quantity: '61.5' },
    ],
    remarks: '',
  };
  return { lot, batch: await enter('PUT', `/batches/${batch.id}`, { ...worked, version: batch.version }) };
}

const buy = (supplyId: string, boughtOn: string, quantity: string, amount: string, currency = 'USD') => ({
  supplyId,
  boughtOn,
  quantity,
  amount,
  currency,
});

describeOnEveryEngine('the stock of supplies', (open) => {
  it('costs a batch at the moving average, the same on its page, in the season and in the CSV', async () => {
    const { db } = await open();
    const mill = await smallMill(db, '2026-07-01');
    const { enter, send, supplies } = mill;
    // Soda 100 kg for 130.00 and 50 kg for 80.00: 210 ÷ 150 = 1.40. Lead 80 kg for 256.00: 3.20.
    await enter('POST', '/supply-purchases', buy(supplies.soda, '2026-05-01', '100', '130'));
    await enter('POST', '/supply-purchases', buy(supplies.soda, '2026-06-10', '50', '80'));
    await enter('POST', '/supply-purchases', buy(supplies.soda, '2026-06-11', '50', '999'));
    await enter('POST', '/supply-purchases', buy(supplies.lead, '2026-05-01', '80', '256'));
    const { batch } = await workedBatch(mill);
    const lines = batch.costs.map((line: { label: string; pricedBy: string; amount: string }) => [
      line.label,
      line.pricedBy,
      line.amount,
    ]);
    expect(lines).toEqual([
      ['Propane', 'list', '123.00'],
      ['Soda ash', 'average', '84.00'],
      ['Wage', 'list', '500.00'],
      ['Lead, charged', 'average', '128.00'],
      ['Lead, back', 'average', '-115.20'],
    ]);
    expect(batch.costTotal).toBe('719.80');
    const csv = new TextDecoder().decode(
      (await send('GET', `/seasons/${mill.seasonId}/accountant.csv`)).body as Uint8Array,
    );
    for (const amount of ['-84.00', '-128.00', '115.20']) expect(csv).toContain(amount);
    expect(JSON.stringify(await enter('GET', `/seasons/${mill.seasonId}/summary`))).toContain('719.80');

    const ledger = await enter('GET', `/supply-stock/${supplies.lead}`);
    expect(ledger.stock).toEqual({ quantity: '76', value: '243.20', averageCost: '3.2' });
    expect(ledger.entries.map((one: { kind: string; quantity: string }) => [one.kind, one.quantity])).toEqual(
      [
        ['purchase', '80'],
        ['use', '-40'],
        ['return', '36'],
      ],
    );
    expect(ledger.entries[1].source).toEqual({ kind: 'batch', id: batch.id, code: 'B-1' });
  });

  it('takes a count as what is there, and says the difference', async () => {
    const { db } = await open();
    const mill = await smallMill(db, '2026-07-01');
    const { enter, send, supplies } = mill;
    const count = { supplyId: supplies.soda, countedOn: '2026-05-31', quantity: '80', unitCost: '1.25' };
    const first = await enter('POST', '/supply-counts', count);
    expect((await send('POST', '/supply-counts', { ...count, quantity: '81' })).status).toBe(409);
    const again = { supplyId: supplies.soda, countedOn: '2026-06-30', quantity: '15' };
    const refused = await send('POST', '/supply-counts', { ...again, unitCost: '2' });
    expect(refused).toMatchObject({ status: 422, body: { errors: [{ pointer: '/unitCost' }] } });
    await enter('POST', '/supply-counts', again);
    await workedBatch(mill);
    // 80 at 1.25, 60 used, 15 counted of 20: five short, 6.25.
    const { entries, stock, findings } = await enter('GET', `/supply-stock/${supplies.soda}`);
    expect(entries.map((one: { amount: string }) => one.amount)).toEqual(['100.00', '-75.00', '-6.25']);
    expect(stock).toEqual({ quantity: '15', value: '18.75', averageCost: '1.25' });
    expect(findings).toEqual([]);

    const corrected = await enter('PUT', `/supply-counts/${first.id}`, {
      ...count,
      quantity: '50',
      version: first.version,
    });
    expect(corrected.version).toBe(2);
    const late = await send('PUT', `/supply-counts/${first.id}`, { ...count, version: first.version });
    expect(late.body.type).toBe(CHANGED);
    const short = await enter('GET', `/supply-stock/${supplies.soda}`);
    expect(short.findings).toMatchObject([{ code: 'stock-negative' }]);
    expect(short.stock).toEqual({ quantity: '15', value: '18.75', averageCost: '1.25' });
  });

  it('foresees what the planned batches will lack, and how long the rest lasts', async () => {
    const { db } = await open();
    const mill = await smallMill(db, '2026-06-19');
    const { enter, supplies } = mill;
    await enter('POST', '/supply-purchases', buy(supplies.soda, '2026-05-01', '150', '210'));
    const { lot } = await workedBatch(mill);
    const planned = await enter('POST', '/batches', {
      code: 'B-2',
      lotId: lot.id,
      treatmentId: mill.treatmentId,
      termsId: mill.refinerTermsId,
      plannedOn: '2026-07-05',
      dryMassKg: '200',
      assumptions: {},
    });
    const { lines, plannedBatches, totalValue } = await enter('GET', '/supply-stock');
    const soda = lines.find((line: { supplyId: string }) => line.supplyId === supplies.soda);
    // 60 g per 100 g of 200 kg are 120 kg, and 90 are there; 60 kg in the 170 days of the year so far.
    expect(soda).toMatchObject({
      stock: { quantity: '90', value: '126.00' },
      outlook: {
        usedPerDay: '0.353',
        daysLeft: 255,
        plannedQuantity: '120',
        shortage: { quantity: '30', by: '2026-07-05', batchCodes: ['B-2'] },
      },
    });
    expect(totalValue).toBe('126.00');
    expect(plannedBatches).toMatchObject([{ id: planned.id, code: 'B-2', on: '2026-07-05' }]);
    const fuel = lines.find((line: { supplyId: string }) => line.supplyId === supplies.fuel);
    expect(fuel).toMatchObject({ stock: null, outlook: { shortage: null, plannedQuantity: '120' } });
    expect(lines.some((line: { kind: string }) => line.kind === 'labour')).toBe(false);
  });

  it('tells a purchase in another currency at the rate of its day, and refuses one without a rate', async () => {
    const { db } = await open();
    const { enter, send, supplies } = await smallMill(db, '2026-07-01');
    const inEuros = buy(supplies.soda, '2026-05-20', '100', '120', 'EUR');
    expect(await send('POST', '/supply-purchases', inEuros)).toMatchObject({
      status: 422,
      body: { errors: [{ pointer: '/currency' }] },
    });
    await enter('PUT', '/exchange-rates', { currency: 'EUR', ratedOn: '2026-05-01', rate: '1.1' });
    const { id } = await enter('POST', '/supply-purchases', inEuros);
    const ledger = await enter('GET', `/supply-stock/${supplies.soda}`);
    expect(ledger.stock.value).toBe('132.00');
    expect(ledger.findings).toMatchObject([{ code: 'exchange-rate-old', level: 'warning' }]);
    await enter('PUT', '/exchange-rates', { currency: 'EUR', ratedOn: '2026-05-19', rate: '1.2' });
    expect((await enter('GET', `/supply-stock/${supplies.soda}`)).stock.value).toBe('144.00');
    await send('DELETE', '/exchange-rates?currency=EUR&ratedOn=2026-05-19');
    await send('DELETE', '/exchange-rates?currency=EUR&ratedOn=2026-05-01');
    expect((await enter('GET', `/supply-stock/${supplies.soda}`)).findings).toMatchObject([
      { code: 'exchange-rate-missing', level: 'blocker' },
      { code: 'stock-cost-unknown' },
    ]);
    expect((await send('DELETE', `/supply-purchases/${id}`)).status).toBe(204);
    expect((await enter('GET', `/supply-stock/${supplies.soda}`)).stock).toBeNull();
  });

  it('refuses what cannot be: labour in stock, a purchase to come, a rate of the mill’s own currency', async () => {
    const { db } = await open();
    const { send, supplies } = await smallMill(db, '2026-07-01');
    const pointerOf = async (method: string, path: string, body: object) =>
      ((await send(method, path, body)).body.errors as { pointer: string }[])[0]?.pointer;
    expect(await pointerOf('POST', '/supply-purchases', buy(supplies.wage, '2026-05-01', '1', '1'))).toBe(
      '/supplyId',
    );
    expect(await pointerOf('POST', '/supply-purchases', buy(supplies.soda, '2026-08-01', '1', '1'))).toBe(
      '/boughtOn',
    );
    expect(await pointerOf('POST', '/supply-purchases', buy(supplies.soda, '2026-05-01', '0', '1'))).toBe(
      '/quantity',
    );
    expect(
      await pointerOf('PUT', '/exchange-rates', { currency: 'USD', ratedOn: '2026-05-01', rate: '1' }),
    ).toBe('/currency');
    expect(await pointerOf('POST', '/expenses', { spentOn: '2026-09-01', kind: 'rent' })).toBe('/amount');
  });
});

describeOnEveryEngine('expenses, account codes and the budget', (open) => {
  it('keeps expenses by day', async () => {
    const { db } = await open();
    const { enter, send } = await smallMill(db, '2026-07-01');
    const rent = { spentOn: '2026-06-01', kind: 'rent', amount: '450', currency: 'USD', payee: 'Landowner' };
    const { id, version } = await enter('POST', '/expenses', rent);
    await enter('POST', '/expenses', { ...rent, spentOn: '2026-05-31' });
    expect(await enter('GET', '/expenses?from=2026-06-01&to=2026-06-30')).toMatchObject([{ id }]);
    await enter('PUT', `/expenses/${id}`, { ...rent, amount: '460', paidOn: '2026-06-05', version });
    expect((await send('PUT', `/expenses/${id}`, { ...rent, version })).body.type).toBe(CHANGED);
    expect(await enter('GET', '/expenses?from=2026-06-01')).toMatchObject([{ amount: '460', version: 2 }]);
    expect((await send('DELETE', `/expenses/${id}`)).status).toBe(204);
  });

  it('suggests account codes and keeps the owner’s, which several kinds may share', async () => {
    const { db } = await open();
    const { enter, send } = await smallMill(db, '2026-07-01');
    const suggested = await enter('GET', '/account-codes');
    expect(suggested[0]).toMatchObject({ kind: 'inventory-concentrate', code: 'A010', version: 0 });
    const own = (kind: string, version: number) => ({ kind, code: '4711', name: 'Stock', version });
    const codes = [own('inventory-concentrate', 0), own('inventory-bars', 0)];
    const kept = await enter('PUT', '/account-codes', { codes });
    expect(kept.filter((one: { code: string }) => one.code === '4711')).toHaveLength(2);
    expect(kept).toHaveLength(suggested.length);
    expect((await send('PUT', '/account-codes', { codes: [own('inventory-bars', 0)] })).body.type).toBe(
      CHANGED,
    );
    await enter('PUT', '/account-codes', { codes: [own('inventory-bars', 1)] });
  });

  it('plans a season by month and holds its batches against the furnace', async () => {
    const { db } = await open();
    const mill = await smallMill(db, '2026-07-01');
    const { enter, send, seasonId } = mill;
    const empty = await enter('GET', `/budgets/${seasonId}`);
    expect(empty).toMatchObject({ version: 0, furnaceHoursPerDay: null });
    expect(empty.months).toHaveLength(12);
    await workedBatch(mill);
    const june = {
      month: '2026-06-01',
      feedDryT: '40',
      concentrateDryKg: '300',
      treatedDryKg: '250',
      fixedCosts: '900',
    };
    const plan = { furnaceHoursPerDay: '6', months: [june], remarks: '', version: 0 };
    const kept = await enter('PUT', `/budgets/${seasonId}`, plan);
    expect(kept.months[5]).toEqual(june);
    expect(kept.capacity[5]).toEqual({
      month: '2026-06-01',
      days: 30,
      availableHours: '180',
      plannedHours: '15',
      plannedBatches: ['B-1'],
      treatedDryKg: '100',
    });
    expect((await send('PUT', `/budgets/${seasonId}`, plan)).body.type).toBe(CHANGED);
    const stray = { ...plan, months: [{ ...june, month: '2027-01-01' }], version: 1 };
    expect((await send('PUT', `/budgets/${seasonId}`, stray)).body.errors[0].pointer).toBe('/months/0/month');
  });
});
