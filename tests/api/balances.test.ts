import { expect, it } from 'vitest';
import { workLot } from '../../api/calc/facts/lot-evidence.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

const weights = (checkedOn: string, factor: number) => ({
  kind: 'check-weights',
  checkedOn,
  readings: [20, 50, 100].map((nominalMassG) => ({ nominalMassG, readingG: nominalMassG * factor })),
});

describeOnEveryEngine('balances and their checks', (open) => {
  it('are kept with their readings, oldest check first, and can be removed again', async () => {
    const { db } = await open();
    const { enter, send, balanceId } = await smallMill(db);
    await enter('POST', `/balances/${balanceId}/checks`, weights('2026-07-01', 1));
    const repeat = await enter('POST', `/balances/${balanceId}/checks`, {
      kind: 'repeat-weighing',
      checkedOn: '2026-06-01',
      readings: [20.001, 20.003, 20.002].map((readingG) => ({ readingG })),
      remarks: 'Brass weight.',
    });
    expect(repeat).toMatchObject({
      repeatabilityFrom: 'stated',
      checks: [
        {
          kind: 'repeat-weighing',
          checkedOn: '2026-06-01',
          remarks: 'Brass weight.',
          readings: [20.001, 20.003, 20.002].map((readingG) => ({ nominalMassG: null, readingG })),
        },
        { kind: 'check-weights', readings: [{ nominalMassG: 20, readingG: 20 }, {}, {}] },
      ],
    });
    expect((await send('DELETE', `/balances/${balanceId}/checks/${repeat.checks[0].id}`)).status).toBe(204);
    expect((await send('DELETE', `/balances/${balanceId}/checks/${repeat.checks[0].id}`)).status).toBe(404);
    const [balance] = await enter('GET', '/balances');
    expect(balance.checks).toHaveLength(1);
  });

  it('refuse a repeat weighing of one reading, a weight of nothing and a balance that is not there', async () => {
    const { db } = await open();
    const { send, balanceId } = await smallMill(db);
    const once = await send('POST', `/balances/${balanceId}/checks`, {
      kind: 'repeat-weighing',
      checkedOn: '2026-06-01',
      readings: [{ readingG: 20 }],
    });
    expect(once).toMatchObject({ status: 422, body: { errors: [{ pointer: '/readings' }] } });
    const nothing = await send('POST', `/balances/${balanceId}/checks`, {
      kind: 'check-weights',
      checkedOn: '2026-06-01',
      readings: [{ nominalMassG: 0, readingG: 0 }],
    });
    expect(nothing).toMatchObject({
      status: 422,
      body: { errors: [{ pointer: '/readings/0/nominalMassG' }] },
    });
    const gone = await send(
      'POST',
      '/balances/00000000-0000-4000-8000-000000000000/checks',
      weights('2026-06-01', 1),
    );
    expect(gone.status).toBe(404);
  });

  it('keep the choice of repeatability when a change leaves it out', async () => {
    const { db } = await open();
    const { enter, balanceId } = await smallMill(db);
    const fields = { name: 'Balance', readabilityG: '0.001', repeatabilityG: '0.001' };
    const chosen = await enter('PUT', `/balances/${balanceId}`, {
      ...fields,
      repeatabilityFrom: 'checks',
      version: 1,
    });
    const renamed = await enter('PUT', `/balances/${balanceId}`, { ...fields, version: chosen.version });
    expect(renamed).toMatchObject({ repeatabilityFrom: 'checks', version: 3 });
  });

  it('tell the test smelts that were weighed after a bad check', async () => {
    const { db } = await open();
    const { enter, balanceId, seasonId } = await smallMill(db);
    const lot = await enter('POST', '/lots', {
      seasonId,
      code: 'T-1',
      madeOn: '2026-05-20',
      wetMassKg: '250',
      moistureFrac: '0',
    });
    const trial = await enter('POST', '/trials', { lotId: lot.id, name: 'Raw' });
    const smelt = {
      trialId: trial.id,
      sampleMassG: 100,
      roasted: false,
      beadMg: 250,
      partedGoldMg: 60,
      sampleBalanceId: balanceId,
      beadBalanceId: balanceId,
    };
    await enter('POST', '/test-smelts', { ...smelt, sample: 'before', smeltedOn: '2026-06-01' });
    await enter('POST', '/test-smelts', { ...smelt, sample: 'after', smeltedOn: '2026-07-02' });
    await enter('POST', `/balances/${balanceId}/checks`, weights('2026-05-30', 1));
    await enter('POST', `/balances/${balanceId}/checks`, weights('2026-06-15', 1));
    await enter('POST', `/balances/${balanceId}/checks`, weights('2026-07-01', 1.02));
    const facts = await enter('GET', `/decisions/facts?lotId=${lot.id}&on=2026-09-01`);
    const { trials } = workLot(facts, { drawCount: 500, seed: 1 });
    const said = trials[0]?.smelts.map(({ sample, result }) => [
      sample,
      result.findings.filter(({ code }) => code === 'weighed-on-bad-balance').map(({ path }) => path),
    ]);
    expect(said).toEqual([
      ['before', []],
      ['after', ['/sampleBalance', '/beadBalance']],
    ]);
  });
});
