import { expect, it } from 'vitest';
import { createApp } from '../../api/app.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

type Mill = Awaited<ReturnType<typeof smallMill>>;

const feed = {
  feedQuantity: '20',
  feedUnit: 'yd3',
  feedTonnesPerUnit: '1.4',
  feedMoistureFrac: '0.1',
};
const day = (on: string, concentrateWetKg: string | null = '50') => ({
  ...feed,
  day: on,
  concentrateWetKg,
  concentrateMoistureFrac: '0.1',
});

async function refused(mill: Mill, path: string, body: object, method = 'POST'): Promise<[string, string]> {
  const answer = await mill.send(method, path, body);
  expect(answer.status, `${path} ${JSON.stringify(body)} ${JSON.stringify(answer.body)}`).toBe(422);
  return [answer.body.errors[0].pointer, answer.body.errors[0].detail];
}

/** Removes a record as it stands; gives the status. */
async function remove(db: Parameters<typeof smallMill>[0], path: string): Promise<number> {
  const app = createApp({ db, now: () => new Date('2026-09-01T12:00:00Z') });
  const answer = await app.request(`/api${path}`, { method: 'DELETE', headers: { 'if-match': '*' } });
  return answer.status;
}

/** What is said to a change that was made on an older version. */
const CHANGED_SINCE = [409, 412];

async function lotOf(mill: Mill, code: string, fields: object = {}) {
  return mill.enter('POST', '/lots', {
    seasonId: mill.seasonId,
    code,
    madeOn: '2026-06-10',
    wetMassKg: '100',
    moistureFrac: '0.1',
    ...fields,
  });
}

async function barOf(mill: Mill, lotId: string, code: string, kind = 'bar') {
  await mill.enter('POST', `/lots/${lotId}/lab-assays`, {
    laboratory: 'Invented laboratory',
    assayedOn: '2026-06-12',
    element: 'Au',
    unit: 'g/t',
    value: '400',
  });
  const batch = await mill.enter('POST', '/batches', {
    code: `B-${code}`,
    lotId,
    treatmentId: mill.treatmentId,
    termsId: mill.refinerTermsId,
    plannedOn: '2026-06-20',
    dryMassKg: '40',
    assumptions: {},
  });
  return mill.enter('POST', `/batches/${batch.id}/products`, {
    code,
    kind,
    madeOn: '2026-06-22',
    massKg: '2',
    goldFinenessFrac: '0.3',
    silverFinenessFrac: '0.6',
  });
}

describeOnEveryEngine('the daily log', (open) => {
  it('keeps a day with its people and supplies, dry masses worked by hand, and refuses a second one', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const entered = await mill.enter('POST', '/days', {
      ...day('2026-06-01'),
      hoursRun: '7.5',
      feedGoldGpt: '1.2',
      tailingsGoldGpt: '0.3',
      supplies: [{ supplyId: mill.supplies.fuel, quantity: '12.5' }],
      labour: [
        { person: 'First helper', supplyId: mill.supplies.wage, hours: '8' },
        { person: 'Second helper', supplyId: mill.supplies.wage, hours: '4' },
      ],
    });
    // 20 yd³ × 1.4 t/yd³ × (1 − 0.1) = 25.2 t; 50 kg × (1 − 0.1) = 45 kg.
    expect(entered).toMatchObject({ feedDryT: '25.2', concentrateDryKg: '45', takenKg: '0', leftKg: '45' });
    expect(entered.labour.map((one: { person: string }) => one.person)).toEqual([
      'First helper',
      'Second helper',
    ]);
    expect((await mill.send('POST', '/days', day('2026-06-01'))).status).toBe(409);

    const {
      id,
      seasonId: _s,
      feedDryT: _f,
      concentrateDryKg: _c,
      takenKg: _t,
      leftKg: _l,
      ...fields
    } = entered;
    const changed = await mill.enter('PUT', `/days/${id}`, { ...fields, concentrateWetKg: '60', labour: [] });
    expect(changed).toMatchObject({ concentrateDryKg: '54', labour: [], version: 2 });
    expect(CHANGED_SINCE).toContain((await mill.send('PUT', `/days/${id}`, fields)).status);
    await mill.enter('POST', '/days', { ...day('2026-07-01', null), concentrateMoistureFrac: null });
    expect(await mill.enter('GET', '/days?from=2026-06-01&to=2026-06-30')).toHaveLength(1);
    expect(await mill.enter('GET', `/days?seasonId=${mill.seasonId}`)).toHaveLength(2);
    expect(await remove(db, `/days/${id}`)).toBe(204);
    expect((await mill.send('GET', `/days/${id}`)).status).toBe(404);
  });

  it('refuses what a day cannot be', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const { wage, fuel } = mill.supplies;
    const at = async (fields: object) =>
      (await refused(mill, '/days', { ...day('2026-06-01'), ...fields }))[0];
    expect(await at({ day: '2031-06-01' })).toBe('/day');
    expect(await at({ concentrateMoistureFrac: null })).toBe('/concentrateMoistureFrac');
    expect(await at({ hoursRun: '25' })).toBe('/hoursRun');
    expect(await at({ supplies: [{ supplyId: wage, quantity: '8' }] })).toBe('/supplies/0/supplyId');
    expect(await at({ labour: [{ person: 'A', supplyId: fuel, hours: '8' }] })).toBe('/labour/0/supplyId');
    expect(await mill.enter('GET', '/days')).toEqual([]);
  });
});

describeOnEveryEngine('what a lot is made from', (open) => {
  it('takes concentrate from days and lots, and never more than is left, too early, or round in a ring', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const first = await mill.enter('POST', '/days', day('2026-06-01'));
    const second = await mill.enter('POST', '/days', day('2026-06-02'));
    const from = (source: string, sourceId: string, dryMassKg: string, takenOn = '2026-06-10') => ({
      source,
      sourceId,
      dryMassKg,
      takenOn,
    });
    const lot = await lotOf(mill, 'A', {
      parts: [from('day', first.id, '45'), from('day', second.id, '40')],
    });
    expect(lot.parts.map((part: { sourceCode: string }) => part.sourceCode)).toEqual([
      '2026-06-01',
      '2026-06-02',
    ]);
    expect(await mill.enter('GET', `/days/${second.id}`)).toMatchObject({ takenKg: '40', leftKg: '5' });
    expect(await mill.enter('GET', '/days/with-concentrate')).toMatchObject([{ id: second.id }]);

    const b = {
      seasonId: mill.seasonId,
      code: 'B',
      madeOn: '2026-06-10',
      wetMassKg: '60',
      moistureFrac: '0',
    };
    const tooMuch = await refused(mill, '/lots', { ...b, parts: [from('day', second.id, '5.1')] });
    expect(tooMuch).toEqual([
      '/parts/0/dryMassKg',
      expect.stringContaining('the day 2026-06-02 has only 5 kg left'),
    ]);
    expect(
      (await refused(mill, '/lots', { ...b, parts: [from('day', second.id, '5', '2026-06-01')] }))[0],
    ).toBe('/parts/0/takenOn');
    expect((await refused(mill, '/lots', { ...b, parts: [from('lot', lot.id, '5', '2026-06-11')] }))[0]).toBe(
      '/parts/0/takenOn',
    );
    expect(await mill.enter('GET', '/lots')).toHaveLength(1);

    // A split: 60 of A's 90 kg dry go into B, so that A has 30 left everywhere.
    const split = await mill.enter('POST', '/lots', { ...b, parts: [from('lot', lot.id, '60')] });
    const left = await mill.enter('GET', `/lots/${lot.id}`);
    expect(left).toMatchObject({ takenByLotsKg: '60', leftKg: '30' });
    expect(left.takenByLots).toMatchObject([{ lotId: split.id, lotCode: 'B', dryMassKg: '60' }]);
    const planned = {
      code: 'X',
      lotId: lot.id,
      treatmentId: mill.treatmentId,
      termsId: mill.refinerTermsId,
      plannedOn: '2026-06-20',
      dryMassKg: '30.5',
      assumptions: {},
    };
    await mill.enter('POST', `/lots/${lot.id}/lab-assays`, {
      laboratory: 'Invented laboratory',
      assayedOn: '2026-06-12',
      element: 'Au',
      unit: 'g/t',
      value: '400',
    });
    expect((await refused(mill, '/batches', planned))[1]).toContain('30 kg left');

    expect((await refused(mill, `/lots/${lot.id}/parts`, from('lot', split.id, '1')))[1]).toContain(
      'was itself made from lot A',
    );
    expect((await refused(mill, `/lots/${lot.id}/parts`, from('lot', lot.id, '1')))[0]).toBe('/sourceId');

    const withDay = await mill.enter('POST', `/lots/${split.id}/parts`, from('day', second.id, '5'));
    expect(withDay.parts).toHaveLength(2);
    expect(await remove(db, `/days/${second.id}`)).toBe(409);
    const dayPart = withDay.parts.find((part: { source: string }) => part.source === 'day');
    expect(await remove(db, `/lots/${split.id}/parts/${dayPart.id}`)).toBe(204);
    expect(await mill.enter('GET', `/days/${second.id}`)).toMatchObject({ leftKg: '5' });

    const { supplies, labour, version } = first;
    const smaller = { ...day('2026-06-01', '49'), supplies, labour, version };
    expect((await refused(mill, `/days/${first.id}`, smaller, 'PUT'))[0]).toBe('/concentrateWetKg');
    const later = { ...day('2026-06-11'), supplies, labour, version };
    expect((await refused(mill, `/days/${first.id}`, later, 'PUT'))[0]).toBe('/day');
    expect(await remove(db, `/lots/${lot.id}`)).toBe(409);
  });

  it('blends minerals by mass where nothing else is said of them', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const pyrite = await lotOf(mill, 'P', { minerals: [{ mineral: 'pyrite', massFrac: '0.6' }] });
    const galena = await lotOf(mill, 'G', {
      minerals: [
        { mineral: 'galena', massFrac: '0.5' },
        { mineral: 'pyrite', massFrac: '0.2' },
      ],
    });
    const parts = [
      { source: 'lot', sourceId: pyrite.id, dryMassKg: '60', takenOn: '2026-06-10' },
      { source: 'lot', sourceId: galena.id, dryMassKg: '20', takenOn: '2026-06-10' },
    ];
    const blend = await lotOf(mill, 'M', { wetMassKg: '80', moistureFrac: '0', parts });
    // (60 × 0.6 + 20 × 0.2) ÷ 80 = 0.5; 20 × 0.5 ÷ 80 = 0.125.
    expect(blend.minerals).toEqual([
      { mineral: 'galena', massFrac: '0.125' },
      { mineral: 'pyrite', massFrac: '0.5' },
    ]);
  });

  it('gives what the parts are known to hold to what is known of the lot', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const assayed = async (code: string, value: string, standardUncertainty: string) => {
      const lot = await lotOf(mill, code);
      await mill.enter('POST', `/lots/${lot.id}/lab-assays`, {
        laboratory: 'Invented laboratory',
        certificate: `Q-${code}`,
        assayedOn: '2026-06-12',
        element: 'Au',
        unit: 'g/t',
        value,
        standardUncertainty,
      });
      return lot.id as string;
    };
    const [rich, poor] = [await assayed('RICH', '900', '10'), await assayed('POOR', '100', '2')];
    const part = (sourceId: string, dryMassKg: string) => ({
      source: 'lot',
      sourceId,
      dryMassKg,
      takenOn: '2026-06-10',
    });
    const blend = await lotOf(mill, 'BLEND', {
      wetMassKg: '80',
      moistureFrac: '0',
      parts: [part(rich, '60'), part(poor, '20')],
    });
    const facts = await mill.enter('GET', `/decisions/facts?lotId=${blend.id}`);
    expect(facts.madeFrom).toMatchObject([
      { code: expect.any(String), dryMassKg: expect.any(String) },
      { restsOnLots: [expect.any(String)], labAssays: [{ certificate: expect.stringMatching(/^Q-/) }] },
    ]);
    const grade = (code: string): number =>
      facts.madeFrom.find((one: { code: string }) => one.code === code).gradeGpt.Au.value;
    // One assay each, and a prior that says nothing: the inferred grade is the assay's, to a few percent.
    expect(grade('RICH') / 900).toBeCloseTo(1, 1);
    expect(grade('POOR') / 100).toBeCloseTo(1, 1);
    expect((await mill.enter('GET', `/decisions/facts?lotId=${rich}`)).madeFrom).toEqual([]);

    // A blend that nobody has assayed can be decided about: planned at what its parts hold.
    const batch = await mill.enter('POST', '/batches', {
      code: 'B-1',
      lotId: blend.id,
      treatmentId: mill.treatmentId,
      termsId: mill.refinerTermsId,
      plannedOn: '2026-06-20',
      dryMassKg: '80',
      assumptions: {},
    });
    // 80 kg at (60 × 900 + 20 × 100) ÷ 80 = 700 g/t hold 56 g = 1.80 ozt, of which 93 % is recovered and 99.25 % paid.
    expect(batch.forecast.goldPayableOzt.mean).toBeGreaterThan(1.5);
    expect(batch.forecast.goldPayableOzt.mean).toBeLessThan(1.8);
  });

  it('takes a product back into work, but not one that is gone, nor into a lot that it came from', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const lot = await lotOf(mill, 'A');
    const matte = await barOf(mill, lot.id, 'MATTE-1', 'matte');
    const again = await lotOf(mill, 'R', {
      madeOn: '2026-07-01',
      wetMassKg: '1.5',
      moistureFrac: '0',
      parts: [{ source: 'product', sourceId: matte.id, dryMassKg: '1.5', takenOn: '2026-07-01' }],
    });
    expect(again.parts).toMatchObject([{ source: 'product', sourceCode: 'MATTE-1' }]);
    const part = { source: 'product', sourceId: matte.id, dryMassKg: '0.5', takenOn: '2026-07-01' };
    const ring = { ...part, takenOn: '2026-06-10' };
    expect((await refused(mill, `/lots/${lot.id}/parts`, ring))[0]).toBe('/takenOn');
    expect((await refused(mill, `/lots/${again.id}/parts`, { ...part, dryMassKg: '0.6' }))[1]).toContain(
      '0.5 kg left',
    );
    const { batchId: _batchId, id: _id, ...fields } = matte;
    expect((await refused(mill, `/products/${matte.id}`, { ...fields, massKg: '1.4' }, 'PUT'))[0]).toBe(
      '/massKg',
    );
    expect(await remove(db, `/products/${matte.id}`)).toBe(409);
  });
});

describeOnEveryEngine('write-offs', (open) => {
  it('take from a lot or product what is left of it at most, and can be taken back', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const lot = await lotOf(mill, 'A');
    const lost = { lotId: lot.id, writtenOffOn: '2026-06-15', massKg: '20', reason: 'Washed out by rain' };
    const written = await mill.enter('POST', '/write-offs', lost);
    expect(await mill.enter('GET', `/lots/${lot.id}`)).toMatchObject({
      writtenOffKg: '20',
      leftKg: '70',
      writeOffs: [{ id: written.id, reason: 'Washed out by rain' }],
    });
    expect(await refused(mill, '/write-offs', { ...lost, massKg: '70.1' })).toEqual([
      '/massKg',
      expect.stringContaining('lot A has only 70 kg left'),
    ]);
    expect((await refused(mill, '/write-offs', { ...lost, writtenOffOn: '2026-06-01' }))[0]).toBe(
      '/writtenOffOn',
    );
    expect((await refused(mill, '/write-offs', { ...lost, reason: ' ' }))[0]).toBe('/reason');
    expect((await refused(mill, '/write-offs', { ...lost, lotId: null }))[0]).toBe('/lotId');
    expect(await remove(db, `/write-offs/${written.id}`)).toBe(204);
    expect(await mill.enter('GET', `/lots/${lot.id}`)).toMatchObject({ leftKg: '90', writeOffs: [] });

    const slag = await barOf(mill, lot.id, 'SLAG-1', 'slag');
    const { lotId: _lotId, ...rest } = lost;
    await mill.enter('POST', '/write-offs', {
      ...rest,
      productId: slag.id,
      massKg: '2',
      writtenOffOn: '2026-06-23',
    });
    expect(
      (
        await refused(mill, '/write-offs', {
          ...rest,
          productId: slag.id,
          massKg: '0.1',
          writtenOffOn: '2026-06-23',
        })
      )[0],
    ).toBe('/massKg');
    expect(await mill.enter('GET', '/write-offs?from=2026-06-23&to=2026-06-30')).toMatchObject([
      { code: 'SLAG-1', massKg: '2' },
    ]);
  });
});

describeOnEveryEngine('shipments', (open) => {
  it('send products out once, after they were made, and give them back when they did not go', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const lot = await lotOf(mill, 'A');
    const bar = await barOf(mill, lot.id, 'BAR-1');
    const [buyer] = await mill.enter('GET', '/counterparties');
    const going = {
      code: 'SH-1',
      counterpartyId: buyer.id,
      shippedOn: '2026-06-25',
      carrier: 'Invented carrier',
      seals: '0041, 0042',
      insuredFor: '60000',
      insuredCurrency: 'USD',
      productIds: [bar.id],
    };
    const at = async (fields: object, path = '/shipments', method = 'POST') =>
      (await refused(mill, path, { ...going, ...fields }, method))[0];
    expect(await at({ shippedOn: '2026-06-21' })).toBe('/shippedOn');
    expect(await at({ arrivedOn: '2026-06-24' })).toBe('/arrivedOn');
    expect(await at({ insuredCurrency: null })).toBe('/insuredCurrency');
    expect(await at({ productIds: [] })).toBe('/productIds');
    const shipment = await mill.enter('POST', '/shipments', going);
    expect(shipment).toMatchObject({
      counterpartyName: buyer.name,
      products: [{ code: 'BAR-1', kind: 'bar', massKg: '2' }],
    });
    expect(await at({ code: 'SH-2' })).toBe('/productIds/0');
    expect(
      await refused(mill, `/lots/${lot.id}/parts`, {
        source: 'product',
        sourceId: bar.id,
        dryMassKg: '1',
        takenOn: '2026-06-22',
      }),
    ).toEqual(['/sourceId', expect.stringContaining('gone out with shipment SH-1')]);

    const { id, version: _v, counterpartyName: _n, products: _p, ...fields } = shipment;
    const arrived = { ...fields, arrivedOn: '2026-06-28', version: 1 };
    expect(await mill.enter('PUT', `/shipments/${id}`, arrived)).toMatchObject({
      arrivedOn: '2026-06-28',
      version: 2,
    });
    expect(CHANGED_SINCE).toContain((await mill.send('PUT', `/shipments/${id}`, arrived)).status);
    expect(await mill.enter('GET', '/shipments')).toHaveLength(1);
    const ofProduct = (productId: string) => mill.enter('GET', `/shipments?productId=${productId}`);
    expect(await ofProduct(bar.id)).toMatchObject([{ code: 'SH-1', arrivedOn: '2026-06-28' }]);
    expect(await ofProduct(lot.id)).toEqual([]);
    expect(await remove(db, `/shipments/${id}`)).toBe(204);
    expect((await mill.send('POST', '/shipments', { ...going, code: 'SH-2' })).status).toBe(201);
  });
});
