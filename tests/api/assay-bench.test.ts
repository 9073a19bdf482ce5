import { expect, it } from 'vitest';
import { workLot } from '../../api/calc/facts/lot-evidence.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

const grains = {
  model: 'coarse-gold',
  grainSizeMm: 0.5,
  grainShape: 'flake',
  goldFrac: 0.85,
  silverWithGold: true,
};
const ground = {
  model: 'gy',
  topSizeMm: 1.2,
  liberationSizeMm: 0.2,
  shapeFactor: 0.5,
  liberationExponent: 1.5,
  goldFrac: 0.9,
  grainDensityGpml: 17.5,
  silverWithGold: false,
};

async function millWithLot(db: Parameters<typeof smallMill>[0]) {
  const mill = await smallMill(db);
  const lot = (await mill.enter('POST', '/lots', {
    seasonId: mill.seasonId,
    code: 'T-1',
    madeOn: '2026-05-20',
    wetMassKg: '250',
    moistureFrac: '0',
  })) as { id: string; version: number };
  return { ...mill, lot };
}

describeOnEveryEngine('the sampling of a lot', (open) => {
  it('is kept as it was said last, survives a change of the lot, and can be forgotten', async () => {
    const { db } = await open();
    const { enter, send, lot, seasonId } = await millWithLot(db);
    expect((await enter('GET', `/lots/${lot.id}`)).sampling).toBeNull();
    expect((await enter('PUT', `/lots/${lot.id}/sampling`, grains)).sampling).toEqual({
      ...grains,
      grainDensityGpml: null,
    });
    expect((await enter('PUT', `/lots/${lot.id}/sampling`, ground)).sampling).toEqual(ground);
    const changed = await enter('PUT', `/lots/${lot.id}`, {
      seasonId,
      code: 'T-1b',
      madeOn: '2026-05-20',
      wetMassKg: '250',
      moistureFrac: '0',
      version: lot.version,
    });
    expect(changed.sampling).toEqual(ground);
    expect((await send('DELETE', `/lots/${lot.id}/sampling`)).status).toBe(204);
    expect((await send('DELETE', `/lots/${lot.id}/sampling`)).status).toBe(404);
    expect((await enter('GET', `/lots/${lot.id}`)).sampling).toBeNull();
  });

  it('refuses a model without its size, a fineness above one, and a lot that is not there', async () => {
    const { db } = await open();
    const { send, lot } = await millWithLot(db);
    const { grainSizeMm: _size, ...noSize } = grains;
    const missing = await send('PUT', `/lots/${lot.id}/sampling`, noSize);
    expect(missing).toMatchObject({ status: 422, body: { errors: [{ pointer: '/grainSizeMm' }] } });
    const pure = await send('PUT', `/lots/${lot.id}/sampling`, { ...grains, goldFrac: 1.2 });
    expect(pure).toMatchObject({ status: 422, body: { errors: [{ pointer: '/goldFrac' }] } });
    const gone = await send('PUT', '/lots/00000000-0000-4000-8000-000000000000/sampling', grains);
    expect(gone.status).toBe(404);
    await expect(
      db
        .insertInto('lotSampling')
        .values({
          lotId: lot.id,
          model: 'coarse-gold',
          grainSizeMm: null,
          grainShape: null,
          topSizeMm: 1,
          liberationSizeMm: null,
          shapeFactor: null,
          liberationExponent: null,
          goldFrac: 0.9,
          grainDensityGpml: null,
          silverWithGold: true,
        })
        .execute(),
    ).rejects.toThrow(/check/);
  });
});

describeOnEveryEngine('an assay with the coarse metal screened out', (open) => {
  const parts = {
    laboratory: 'Invented laboratory',
    certificate: 'X-9',
    assayedOn: '2026-05-28',
    element: 'Au',
    screenMm: 0.1,
    coarseMassG: 20,
    coarseMetalMg: 300,
    fineMassG: 480,
    fineAssays: [{ gradeGpt: 400, standardUncertaintyGpt: 4 }, { gradeGpt: 410 }],
  };

  it('is worked up and kept as a lab assay with its working', async () => {
    const { db } = await open();
    const { enter, lot, balanceId } = await millWithLot(db);
    const assay = await enter('POST', `/lots/${lot.id}/screen-metallics`, { ...parts, balanceId });
    // 300 mg and 480 g at 405 g/t (194.4 mg) in 500 g: 494.4/500 × 1000 = 988.8 g/t.
    expect(Number(assay.value)).toBeCloseTo(988.8, 4);
    expect(assay).toMatchObject({ element: 'Au', unit: 'g/t', method: 'screen metallics', sampleMassG: 500 });
    expect(Number(assay.standardUncertainty)).toBeGreaterThan(0);
    const [kept] = (await enter('GET', `/lots/${lot.id}`)).labAssays;
    expect(kept).toEqual(assay);
    expect(kept.screenMetallics).toMatchObject({
      coarseMassG: 20,
      fineAssays: [{ standardUncertaintyGpt: 4 }, { standardUncertaintyGpt: null }],
      balance: { name: 'Balance', readabilityG: '0.001' },
    });
    const facts = await enter('GET', `/decisions/facts?lotId=${lot.id}&on=2026-06-05`);
    const { inference } = workLot(facts, { drawCount: 2000, seed: 1 });
    expect(inference.summary.Au.gradeGpt?.p50).toBeGreaterThan(800);
  });

  it('refuses no fine assay, a balance that is not there, and milligrams taken for grams', async () => {
    const { db } = await open();
    const { send, lot, balanceId } = await millWithLot(db);
    const to = `/lots/${lot.id}/screen-metallics`;
    expect(await send('POST', to, { ...parts, balanceId, fineAssays: [] })).toMatchObject({
      status: 422,
      body: { errors: [{ pointer: '/fineAssays' }] },
    });
    const unknown = '00000000-0000-4000-8000-000000000000';
    expect(await send('POST', to, { ...parts, balanceId: unknown })).toMatchObject({
      status: 422,
      body: { errors: [{ pointer: '/balanceId' }] },
    });
    expect(await send('POST', to, { ...parts, balanceId, coarseMetalMg: 30_000 })).toMatchObject({
      status: 422,
      body: { errors: [{ pointer: '/coarseMetalMg' }] },
    });
  });
});

describeOnEveryEngine('the correction for losses in cupelling', (open) => {
  it('is off, with the usual losses to begin with, and follows the owner', async () => {
    const { db } = await open();
    const { enter, send, balanceId, lot } = await millWithLot(db);
    const first = await enter('GET', '/cupellation');
    expect(first).toMatchObject({ correction: 'off', silverLossFrac: 0.02, goldLossFrac: 0.003, proofs: [] });
    const trial = await enter('POST', '/trials', { lotId: lot.id, name: 'Raw' });
    await enter('POST', '/test-smelts', {
      trialId: trial.id,
      sample: '1',
      smeltedOn: '2026-06-01',
      sampleMassG: 100,
      roasted: false,
      beadMg: 250,
      partedGoldMg: 60,
      inquartSilverMg: 12.5,
      matteGoldGpt: 14,
      slagSilverGpt: 3.5,
      sampleBalanceId: balanceId,
      beadBalanceId: balanceId,
    });
    const { proofs, version, ...settings } = first;
    expect(proofs).toEqual([]);
    await enter('PUT', '/cupellation', { ...settings, correction: 'proofs', version });
    for (const foundMg of [195, 197])
      await enter('POST', '/cupellation/proofs', {
        metal: 'Ag',
        provedOn: '2026-05-30',
        takenMg: 200,
        foundMg,
        balanceId,
      });
    const facts = await enter('GET', `/decisions/facts?lotId=${lot.id}&on=2026-06-05`);
    expect(facts.trials[0].smelts[0]).toMatchObject({
      inquartSilverMg: 12.5,
      matteGoldGpt: 14,
      matteSilverGpt: null,
      slagSilverGpt: 3.5,
    });
    const { trials, inference } = workLot(facts, { drawCount: 500, seed: 1 });
    // Silver 190 mg of 100 g, over 1 − 0.02 by the proofs; gold 60 mg over 1 − 0.003 as stated.
    expect(trials[0]?.smelts[0]?.result.silverGpt?.value).toBeCloseTo(1900 / 0.98, 6);
    expect(trials[0]?.smelts[0]?.result.goldGpt?.value).toBeCloseTo(600 / 0.997, 6);
    expect(inference.findings.map(({ code }) => code)).toContain('cupellation-corrected');

    const stale = await send('PUT', '/cupellation', { ...settings, correction: 'off', version });
    expect(stale.status).toBe(412);
    const { proofs: kept } = await enter('GET', '/cupellation');
    expect((await send('DELETE', `/cupellation/proofs/${kept[0].id}`)).status).toBe(204);
    expect((await enter('GET', '/cupellation')).proofs).toHaveLength(1);
    const lossOfAll = await send('PUT', '/cupellation', { ...settings, goldLossFrac: 1, version: 2 });
    expect(lossOfAll).toMatchObject({ status: 422, body: { errors: [{ pointer: '/goldLossFrac' }] } });
  });
});
