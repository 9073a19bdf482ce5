import { expect, it } from 'vitest';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

const ON = '2026-06-05';
const draws = { drawCount: 1000 };

async function plannedBatch(db: Parameters<typeof smallMill>[0]) {
  const mill = await smallMill(db);
  const lot = await mill.enter('POST', '/lots', {
    seasonId: mill.seasonId,
    code: 'T-1',
    madeOn: '2026-05-20',
    wetMassKg: '300',
    moistureFrac: '0',
  });
  for (const [element, value] of [
    ['Au', '610'],
    ['Ag', '1900'],
  ])
    await mill.enter('POST', `/lots/${lot.id}/lab-assays`, {
      laboratory: 'Invented laboratory',
      assayedOn: '2026-05-22',
      element,
      unit: 'g/t',
      value,
    });
  const way = { treatmentId: mill.treatmentId, termsId: mill.refinerTermsId };
  const decision = await mill.enter('POST', '/decisions', {
    lotId: lot.id,
    decidedOn: ON,
    dryMassKg: '100',
    chosen: way,
    reason: 'The roast is what we can do ourselves.',
    assumptions: draws,
  });
  const batch = await mill.enter('POST', '/batches', {
    code: 'B-1',
    lotId: lot.id,
    ...way,
    decisionId: decision.id,
    plannedOn: ON,
    dryMassKg: '100',
    assumptions: draws,
  });
  const leftKg = async () => (await mill.enter('GET', `/lots/${lot.id}`)).leftKg as string;
  return { ...mill, lot, way, decision, batch, leftKg };
}

describeOnEveryEngine('a batch planned anew', (open) => {
  it('takes the new mass, freezes a new forecast, and keeps the earlier one', async () => {
    const { db } = await open();
    const { enter, way, batch, leftKg } = await plannedBatch(db);
    expect(batch.superseded).toEqual([]);
    expect(await leftKg()).toBe('200');
    const plan = { ...way, plannedOn: '2026-06-06', dryMassKg: '250', assumptions: draws };
    const changed = await enter('PUT', `/batches/${batch.id}/plan`, { ...plan, version: batch.version });
    expect(changed).toMatchObject({
      code: 'B-1',
      status: 'planned',
      plannedOn: '2026-06-06',
      dryMassKg: '250',
      decisionId: batch.decisionId,
      version: batch.version + 1,
      superseded: [{ plannedOn: ON, dryMassKg: '100', forecast: batch.forecast }],
    });
    expect(await leftKg()).toBe('50');
    // Two and a half times the mass brings two and a half times the gold.
    const gold = (one: typeof batch) => one.forecast.goldPayableOzt.mean as number;
    expect(gold(changed) / gold(batch)).toBeCloseTo(2.5, 6);
    const { workedFrom } = await enter('GET', `/batches/${batch.id}/forecast`);
    expect(workedFrom.dryMassKg).toBe('250');
    const again = await enter('PUT', `/batches/${batch.id}/plan`, {
      ...way,
      plannedOn: '2026-06-06',
      dryMassKg: '300',
      version: changed.version,
    });
    // Without assumptions of its own it keeps those of the earlier plan.
    const { workedFrom: kept } = await enter('GET', `/batches/${batch.id}/forecast`);
    expect(kept.assumptions.drawCount).toBe(draws.drawCount);
    expect(again.superseded.map((one: { dryMassKg: string }) => one.dryMassKg)).toEqual(['100', '250']);
  });

  it('no longer carries out a decision that chose otherwise', async () => {
    const { db } = await open();
    const { enter, batch, decision, smelterTermsId } = await plannedBatch(db);
    expect(batch.decisionId).toBe(decision.id);
    const changed = await enter('PUT', `/batches/${batch.id}/plan`, {
      treatmentId: null,
      termsId: smelterTermsId,
      plannedOn: ON,
      dryMassKg: '100',
      assumptions: draws,
      version: batch.version,
    });
    expect(changed).toMatchObject({ treatmentId: null, decisionId: null });
  });

  it('is refused beyond what is left, from an old page, and once it is begun', async () => {
    const { db } = await open();
    const { enter, send, way, batch } = await plannedBatch(db);
    const plan = { ...way, plannedOn: ON, assumptions: draws, version: batch.version };
    const tooMuch = await send('PUT', `/batches/${batch.id}/plan`, { ...plan, dryMassKg: '301' });
    expect(tooMuch.status).toBe(422);
    const old = await send('PUT', `/batches/${batch.id}/plan`, { ...plan, dryMassKg: '90', version: 99 });
    expect(old.status).toBe(412);
    await enter('PUT', `/batches/${batch.id}`, {
      status: 'running',
      startedOn: ON,
      finishedOn: null,
      furnaceHours: null,
      labourHours: null,
      leadInKg: null,
      leadBackKg: null,
      consumption: [],
      remarks: '',
      version: batch.version,
    });
    const begun = await send('PUT', `/batches/${batch.id}/plan`, {
      ...plan,
      dryMassKg: '90',
      version: batch.version + 1,
    });
    expect(begun.status).toBe(422);
  });
});
