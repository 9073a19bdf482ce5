import { expect, it } from 'vitest';
import { describeOnEveryEngine } from '../support/engines.ts';
import { NO_DATES, smallMill } from '../support/mill.ts';

describeOnEveryEngine('bad input', (open) => {
  it('is refused with the field, the value and what would be right, and nothing is written', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const { enter, send } = mill;
    const good = {
      seasonId: mill.seasonId,
      code: 'T-1',
      madeOn: '2026-05-20',
      wetMassKg: '250',
      moistureFrac: '0.08',
    };
    const lot = await enter('POST', '/lots', good);
    const trial = await enter('POST', '/trials', { lotId: lot.id, name: 'Raw' });
    const smelt = {
      trialId: trial.id,
      sample: '1',
      smeltedOn: '2026-05-25',
      sampleMassG: 100,
      roasted: false,
      sampleBalanceId: mill.balanceId,
      beadBalanceId: mill.balanceId,
    };
    const nowhere = '00000000-0000-4000-8000-000000000000';
    const batch = {
      code: 'T-B',
      lotId: lot.id,
      treatmentId: mill.treatmentId,
      termsId: mill.refinerTermsId,
      plannedOn: '2026-06-05',
      dryMassKg: '100',
      assumptions: {},
    };
    const cases: [path: string, body: unknown, status: number, pointer: string, says: RegExp][] = [
      ['/lots', { ...good, code: 'T-2', wetMassKg: '-3' }, 422, '/wetMassKg', /above 0/],
      ['/lots', { ...good, code: 'T-2', wetMassKg: '99999999999' }, 422, '/wetMassKg', /at most/],
      ['/lots', { ...good, code: 'T-2', wetMassKg: '1,5' }, 422, '/wetMassKg', /1240\.5/],
      ['/lots', { ...good, code: 'T-2', moistureFrac: '1.2' }, 422, '/moistureFrac', /below 1/],
      ['/lots', { ...good, code: 'T-2', madeOn: '2031-05-20' }, 422, '/madeOn', /season/],
      ['/lots', { ...good, code: 'T-2', madeOn: '2026-02-30' }, 422, '/madeOn', /YYYY-MM-DD/],
      ['/lots', { ...good, code: '' }, 422, '/code', /empty/],
      ['/lots', good, 409, '', /T-1|code/i],
      ['/test-smelts', { ...smelt, sampleMassG: -1 }, 422, '/sampleMassG', /above 0/],
      ['/test-smelts', { ...smelt, sampleMassG: null }, 422, '/sampleMassG', /number/],
      ['/test-smelts', { ...smelt, buttonG: 1, beadMg: 1001 }, 422, '/beadMg', /button/],
      ['/test-smelts', { ...smelt, beadMg: 10, partedGoldMg: 11 }, 422, '/partedGoldMg', /bead/],
      ['/test-smelts', { ...smelt, massAfterRoastG: 80 }, 422, '/roasted', /must be yes/],
      ['/test-smelts', { ...smelt, reagents: [{ supplyId: nowhere, massG: 5 }] }, 422, '', /./],
      ['/test-smelts', { ...smelt, trialId: nowhere }, 422, '', /./],
      ['/batches', { ...batch, dryMassKg: '230.1' }, 422, '/dryMassKg', /230 kg left/],
      ['/batches', { ...batch, termsId: mill.smelterTermsId }, 422, '/treatmentId', /cannot be forecast/],
      ['/quotations', { metal: 'Au' }, 404, '', /./],
      ['/lots', '{"code":', 400, '', /JSON/],
    ];
    for (const [path, body, status, pointer, says] of cases) {
      const answer = await send('POST', path, body);
      const what = `${path} ${JSON.stringify(body)} → ${JSON.stringify(answer.body)}`;
      expect(answer.status, what).toBe(status);
      expect(answer.headers.get('content-type'), what).toContain('application/problem+json');
      if (pointer === '') expect(answer.body.detail, what).toMatch(says);
      else
        expect(
          answer.body.errors.find((error: { pointer: string }) => error.pointer === pointer)?.detail,
          what,
        ).toMatch(says);
    }
    expect(await enter('GET', '/lots')).toHaveLength(1);
    expect((await enter('GET', '/trials'))[0].smelts).toEqual([]);
    expect(await enter('GET', '/batches')).toEqual([]);
  });

  it('refuses what cannot have come of a batch, and days that cannot be', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const { enter, send } = mill;
    const lot = await enter('POST', '/lots', {
      seasonId: mill.seasonId,
      code: 'T-1',
      madeOn: '2026-05-20',
      wetMassKg: '250',
      moistureFrac: '0.08',
    });
    await enter('POST', `/lots/${lot.id}/lab-assays`, {
      laboratory: 'Invented laboratory',
      assayedOn: '2026-05-22',
      element: 'Au',
      unit: 'g/t',
      value: '400',
    });
    const planned = {
      code: 'T-B',
      lotId: lot.id,
      treatmentId: mill.treatmentId,
      termsId: mill.refinerTermsId,
      plannedOn: '2026-06-05',
      dryMassKg: '100',
      assumptions: {},
    };
    const refusedAt = async (path: string, body: object, method = 'POST'): Promise<string> => {
      const answer = await send(method, path, body);
      expect(answer.status, JSON.stringify(answer.body)).toBe(422);
      return answer.body.errors[0].pointer;
    };
    expect(await refusedAt('/batches', { ...planned, plannedOn: '2027-06-05' })).toBe('/plannedOn');
    const batch = await enter('POST', '/batches', planned);
    await enter('PUT', `/batches/${batch.id}`, {
      status: 'running',
      startedOn: '2026-06-08',
      finishedOn: null,
      furnaceHours: null,
      labourHours: null,
      leadInKg: null,
      leadBackKg: null,
      consumption: [],
      remarks: '',
      version: batch.version,
    });
    const bar = { code: 'T-BAR', kind: 'bar', madeOn: '2026-06-10', massKg: '0.04' };
    const products = `/batches/${batch.id}/products`;
    expect(await refusedAt(products, { ...bar, massKg: '100.1' })).toBe('/massKg');
    expect(await refusedAt(products, { ...bar, madeOn: '2026-06-07' })).toBe('/madeOn');
    expect(await refusedAt(products, { ...bar, massKg: '0.0383816904123' })).toBe('/massKg');
    // 100 kg dry at 8 % moisture is 108.7 kg wet; a scale and a moisture may be a tenth off.
    expect(await refusedAt(products, { ...bar, kind: 'parcel', massKg: '120' })).toBe('/massKg');
    // 1.234 troy ounces as the page sends them: 38.3816903712 g.
    const { id } = await enter('POST', products, { ...bar, massKg: '0.038381690371' });
    expect(
      await refusedAt('/statements', {
        productId: id,
        termsId: mill.refinerTermsId,
        stage: 'provisional',
        parcel: { kind: 'dore', bars: [{ name: 'T-BAR', receivedG: '38.38', afterMeltG: null }] },
        assays: [],
        dates: { ...NO_DATES, meltedOn: '2026-06-09' },
      }),
    ).toBe('/dates/meltedOn');
    const quotation = { metal: 'Au', price: '2400', currency: 'USD', unit: 'ozt' };
    expect(await refusedAt('/quotations', { ...quotation, quotedOn: '2062-11-20' }, 'PUT')).toBe('/quotedOn');
  });

  it('refuses terms that contradict themselves, at the clause', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const terms = await mill.enter('GET', `/terms/${mill.smelterTermsId}`);
    const body = structuredClone(terms.body);
    body.metals[0].form = { kind: 'lesser-of', paidFrac: '1.4', deduction: '1' };
    const answer = await mill.send('POST', '/terms', {
      counterpartyId: terms.counterpartyId,
      name: 'Impossible',
      validFrom: '2026-01-01',
      body,
    });
    expect(answer.status).toBe(422);
    expect(answer.body.errors[0].pointer).toMatch(/^\/body\/metals\/0\/form/);
    expect(await mill.enter('GET', '/terms')).toHaveLength(2);
  });

  it('tells the later of two people that the record has changed, and loses nothing', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const treatment = await mill.enter('GET', `/treatments/${mill.treatmentId}`);
    const { id, ...fields } = treatment;
    await mill.enter('PUT', `/treatments/${id}`, { ...fields, name: 'First' });
    const later = await mill.send('PUT', `/treatments/${id}`, { ...fields, name: 'Second' });
    expect(later.status).toBe(412);
    expect((await mill.enter('GET', `/treatments/${id}`)).name).toBe('First');
  });
});
