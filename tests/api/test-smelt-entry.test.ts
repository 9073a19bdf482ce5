import { expect, it } from 'vitest';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

async function millWithLot(db: Parameters<typeof smallMill>[0]) {
  const mill = await smallMill(db);
  const lot = await mill.enter('POST', '/lots', {
    seasonId: mill.seasonId,
    code: 'T-1',
    madeOn: '2026-05-20',
    wetMassKg: '250',
    moistureFrac: '0',
  });
  const entry = {
    newTrial: { lotId: lot.id, name: 'Raw' },
    sample: '1',
    smeltedOn: '2026-06-01',
    sampleMassG: 100,
    roasted: false,
    newSampleBalance: { name: 'Kitchen scale', readabilityG: '0.1', repeatabilityG: '0.1' },
    reagents: [{ newSupply: { name: 'Wood ash', kind: 'reagent', unit: 'kg' }, massG: 30 }],
  };
  const books = async () => ({
    trials: (await mill.enter('GET', `/trials?lotId=${lot.id}`)) as { name: string; smelts: unknown[] }[],
    balances: ((await mill.enter('GET', '/balances')) as { name: string }[]).map(({ name }) => name),
    supplies: ((await mill.enter('GET', '/supplies')) as { name: string }[]).map(({ name }) => name),
  });
  return { ...mill, lot, entry, books };
}

describeOnEveryEngine('a test smelt with what it names that is new', (open) => {
  it('is entered whole', async () => {
    const { db } = await open();
    const { enter, entry, books } = await millWithLot(db);
    const smelt = await enter('POST', '/test-smelts', entry);
    expect(smelt.beadBalanceId).toBe(smelt.sampleBalanceId);
    expect(smelt.reagents).toHaveLength(1);
    const { trials, balances, supplies } = await books();
    expect(trials).toMatchObject([{ name: 'Raw', smelts: [{ id: smelt.id }] }]);
    expect(balances).toContain('Kitchen scale');
    expect(supplies).toContain('Wood ash');
  });

  it('leaves nothing behind where any of it is refused', async () => {
    const { db } = await open();
    const { send, entry, books, balanceId } = await millWithLot(db);
    const before = await books();
    const nowhere = '00000000-0000-4000-8000-000000000000';
    const refused: [object, string][] = [
      [{ reagents: [...entry.reagents, { supplyId: nowhere, massG: 5 }] }, '/supplyId'],
      [{ reagents: [...entry.reagents, { massG: 5 }] }, '/reagents/1/supplyId'],
      [
        { newSampleBalance: { ...entry.newSampleBalance, name: before.balances[0] } },
        '/newSampleBalance/name',
      ],
      [{ sampleBalanceId: balanceId }, '/sampleBalanceId'],
      [{ newSampleBalance: null, sampleBalanceId: balanceId }, '/beadBalanceId'],
      [{ newTrial: { ...entry.newTrial, lotId: nowhere } }, '/newTrial/lotId'],
      [{ newTrial: null }, '/trialId'],
    ];
    for (const [change, pointer] of refused) {
      const answer = await send('POST', '/test-smelts', { ...entry, ...change });
      expect([409, 422], JSON.stringify(answer.body)).toContain(answer.status);
      expect(answer.body.errors, JSON.stringify(answer.body)).toMatchObject([{ pointer }]);
    }
    expect(await books()).toEqual(before);
  });

  it('is changed whole or not at all, and names a second trial of one name', async () => {
    const { db } = await open();
    const { enter, send, entry, books } = await millWithLot(db);
    const { id, ...smelt } = await enter('POST', '/test-smelts', entry);
    const before = await books();
    const trial = { lotId: entry.newTrial.lotId, name: 'Roasted' };
    const moved = { ...smelt, trialId: null, newTrial: trial };
    expect(await send('PUT', `/test-smelts/${id}`, { ...moved, version: 99 })).toMatchObject({ status: 412 });
    expect(await books()).toEqual(before);
    expect(
      await send('PUT', `/test-smelts/${id}`, { ...moved, newTrial: { ...trial, name: 'Raw' } }),
    ).toMatchObject({ status: 409, body: { errors: [{ pointer: '/newTrial/name', value: 'Raw' }] } });
    await enter('PUT', `/test-smelts/${id}`, moved);
    expect((await books()).trials).toMatchObject([
      { name: 'Raw', smelts: [] },
      { name: 'Roasted', smelts: [{ id }] },
    ]);
  });
});
