import { describe, expect, it } from 'vitest';
import { decideDrawn } from '../../api/calc/economics/decide.ts';
import { drawDecision } from '../../api/calc/economics/simulate.ts';
import { lotQuestion } from '../../api/calc/facts/decide-lot.ts';
import { workDepthWhole } from '../../api/calc/facts/decision-depth.ts';
import { newDecision } from '../../api/schemas/decision.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { NO_DATES, smallMill } from '../support/mill.ts';

const ON = '2026-06-05';
const draws = { drawCount: 1000 };

async function millWithLot(db: Parameters<typeof smallMill>[0]) {
  const mill = await smallMill(db);
  const lot = (await mill.enter('POST', '/lots', {
    seasonId: mill.seasonId,
    code: 'T-1',
    madeOn: '2026-05-20',
    wetMassKg: '300',
    moistureFrac: '0',
  })) as { id: string };
  for (const [element, unit, value] of [
    ['Au', 'g/t', '610'],
    ['Ag', 'g/t', '1900'],
    ['As', 'percent', '0.1'],
  ])
    await mill.enter('POST', `/lots/${lot.id}/lab-assays`, {
      laboratory: 'Invented laboratory',
      assayedOn: '2026-05-22',
      element,
      unit,
      value,
    });
  const roast = { treatmentId: mill.treatmentId, termsId: mill.refinerTermsId };
  const decision = {
    lotId: lot.id,
    decidedOn: ON,
    dryMassKg: '100',
    chosen: roast,
    reason: 'The roast is what we can do ourselves.',
    assumptions: draws,
  };
  return { ...mill, lot, roast, decision };
}

describeOnEveryEngine('recorded decisions', (open) => {
  it('freeze what they rest on, so that all of it can be worked again', async () => {
    const { db } = await open();
    const { enter, send, decision, lot, roast } = await millWithLot(db);
    const recorded = await enter('POST', '/decisions', decision);
    expect(recorded).toMatchObject({
      lotCode: 'T-1',
      decidedOn: ON,
      dryMassKg: '100',
      currency: 'USD',
      reason: decision.reason,
      chosen: { ...roast, optionId: `${roast.treatmentId}/${roast.termsId}` },
      batches: [],
    });
    expect(recorded.options).toHaveLength(2);

    // The books move on; the decision does not.
    await enter('PUT', '/quotations', {
      metal: 'Au',
      quotedOn: ON,
      price: '9999',
      currency: 'USD',
      unit: 'ozt',
    });
    const frozen = await enter('GET', `/decisions/${recorded.id}/frozen`);
    const question = lotQuestion(frozen.facts, frozen.assumptions, Number(frozen.dryMassKg));
    const drawn = drawDecision(question.input);
    const again = decideDrawn(drawn);
    expect(frozen.prices.Au.spot).toBe(2400);
    expect(JSON.parse(JSON.stringify(again))).toEqual(frozen.decision);
    expect(JSON.parse(JSON.stringify(workDepthWhole(question, drawn, again)))).toEqual(frozen.depth);
    expect((await enter('GET', `/decisions/${recorded.id}`)).sentence).toBe(recorded.sentence);

    expect(await enter('GET', `/decisions?lotId=${lot.id}`)).toHaveLength(1);
    expect(await enter('GET', '/decisions')).toHaveLength(1);
    expect(await enter('GET', '/decisions?lotId=00000000-0000-4000-8000-000000000000')).toEqual([]);
    await expect(
      db.updateTable('decision').set({ reason: 'other' }).where('id', '=', recorded.id).execute(),
    ).rejects.toThrow(/stays as it was recorded/);

    const report = JSON.stringify(await enter('GET', `/decisions/${recorded.id}/report`));
    expect(report).toContain('Reason given: The roast is what we can do ourselves.');
    for (const paper of ['A4', 'Letter']) {
      const pdf = await send('GET', `/decisions/${recorded.id}/decision.pdf?paper=${paper}`);
      expect(pdf.headers.get('content-type')).toBe('application/pdf');
      expect(pdf.headers.get('content-disposition')).toContain('decision-T-1-2026-06-05.pdf');
      expect(new TextDecoder('latin1').decode(pdf.body.slice(0, 5))).toBe('%PDF-');
    }

    expect((await send('DELETE', `/lots/${lot.id}`)).status).toBe(409);
    expect((await send('DELETE', `/decisions/${recorded.id}`)).status).toBe(204);
    expect((await send('GET', `/decisions/${recorded.id}`)).status).toBe(404);
    expect((await send('GET', `/decisions/${recorded.id}/frozen`)).status).toBe(404);
    expect((await send('DELETE', `/decisions/${recorded.id}`)).status).toBe(404);
  });

  it('draw only so often: more would keep everybody else waiting', async () => {
    const { db } = await open();
    const { enter, send, decision } = await millWithLot(db);
    const tooMany = await send('POST', '/decisions', { ...decision, assumptions: { drawCount: 50_001 } });
    expect(tooMany).toMatchObject({
      status: 422,
      body: {
        errors: [{ pointer: '/assumptions/drawCount', detail: expect.stringContaining('at most 50000') }],
      },
    });
    expect(await enter('GET', '/decisions')).toEqual([]);
    await enter('POST', '/decisions', { ...decision, assumptions: { drawCount: 50_000 } });
  });

  it('may leave the lot as it is', async () => {
    const { db } = await open();
    const { enter, decision } = await millWithLot(db);
    const left = await enter('POST', '/decisions', {
      ...decision,
      chosen: null,
      reason: 'Wait for the price.',
    });
    expect(left.chosen).toBeNull();
    expect(JSON.stringify(await enter('GET', `/decisions/${left.id}/report`))).toContain(
      'it was decided to leave 100 kg dry of lot T-1 as it is for now',
    );
  });

  it('are refused with the field at fault', async () => {
    const { db } = await open();
    const { send, decision, roast, smelterTermsId } = await millWithLot(db);
    const refused = async (changed: object): Promise<unknown[]> => {
      const { status, body } = await send('POST', '/decisions', { ...decision, ...changed });
      expect([400, 422]).toContain(status);
      return body.errors.map(({ pointer }: { pointer: string }) => pointer);
    };
    expect(await refused({ reason: '  ' })).toEqual(['/reason']);
    expect(await refused({ dryMassKg: '0' })).toEqual(['/dryMassKg']);
    expect(await refused({ decidedOn: '2026-02-30' })).toEqual(['/decidedOn']);
    // Roasted and sold as concentrate: no such option.
    expect(await refused({ chosen: { ...roast, termsId: smelterTermsId } })).toEqual(['/chosen']);
    // Before any quotation and any terms there is nothing to compare.
    expect(await refused({ decidedOn: '2025-06-01' })).toEqual(['/lotId']);
    const nowhere = await send('POST', '/decisions', {
      ...decision,
      lotId: '00000000-0000-4000-8000-000000000000',
    });
    expect(nowhere.status).toBe(404);
  });

  it('are held against what came of their batches', async () => {
    const { db } = await open();
    const mill = await millWithLot(db);
    const { enter, send, decision, lot, roast } = mill;
    const recorded = await enter('POST', '/decisions', decision);
    const planned = {
      lotId: lot.id,
      ...roast,
      plannedOn: '2026-06-06',
      dryMassKg: '100',
      assumptions: draws,
    };
    const batch = await enter('POST', '/batches', { ...planned, code: 'T-B1', decisionId: recorded.id });
    expect(batch.decisionId).toBe(recorded.id);
    // What names no decision, was worked in the way chosen and still fits its mass is what it was about too.
    const more = { ...planned, plannedOn: '2026-06-07' };
    const other = await enter('POST', '/batches', { ...more, code: 'T-B2', dryMassKg: '40' });
    expect(other.decisionId).toBeNull();
    // One planned before, one worked in another way, and one beyond the mass decided about, are not.
    await enter('POST', '/batches', { ...planned, code: 'T-B0', dryMassKg: '10', plannedOn: '2026-06-04' });
    await enter('POST', '/batches', {
      ...more,
      code: 'T-B3',
      dryMassKg: '50',
      treatmentId: null,
      termsId: mill.smelterTermsId,
    });
    const codes = async (id: string): Promise<string[]> =>
      (await enter('GET', `/decisions/${id}`)).batches.map(
        ({ batchCode }: { batchCode: string }) => batchCode,
      );
    expect((await enter('GET', `/decisions/${recorded.id}`)).batches).toEqual([
      { batchId: batch.id, batchCode: 'T-B1', dryMassKg: '100', status: 'planned', hindsight: null },
    ]);
    const later = await enter('POST', '/decisions', {
      ...decision,
      decidedOn: '2026-06-07',
      dryMassKg: '60',
    });
    expect(await codes(later.id)).toEqual(['T-B2']);
    expect(await codes(recorded.id)).toEqual(['T-B1']);
    expect((await send('DELETE', `/decisions/${recorded.id}`)).status).toBe(409);

    const settle = async (batchId: string, code: string, massG: string) => {
      const bar = await enter('POST', `/batches/${batchId}/products`, {
        code,
        kind: 'bar',
        madeOn: '2026-06-10',
        massKg: String(Number(massG) / 1000),
      });
      const draft = await enter('POST', '/statements', {
        productId: bar.id,
        termsId: mill.refinerTermsId,
        stage: 'provisional',
        parcel: { kind: 'dore', bars: [{ name: code, receivedG: massG, afterMeltG: null }] },
        assays: [
          { element: 'Au', unit: 'fineness', own: '240', buyer: null, umpire: null },
          { element: 'Ag', unit: 'fineness', own: '720', buyer: null, umpire: null },
        ],
        agreedPrices: [
          { metal: 'Au', price: '2400', basis: 'agreed' },
          { metal: 'Ag', price: '30', basis: 'agreed' },
        ],
        dates: { ...NO_DATES, shippedOn: '2026-06-11', statementOn: '2026-06-12' },
      });
      await enter('POST', `/statements/${draft.id}/issue`, {
        version: draft.version,
        issuedOn: '2026-06-12',
      });
    };
    await settle(batch.id, 'T-BAR1', '252.0');
    await settle(other.id, 'T-BAR2', '20.0');
    const [first] = (await enter('GET', `/decisions/${recorded.id}`)).batches;
    const [second] = (await enter('GET', `/decisions/${later.id}`)).batches;
    const { actualNetValue: paid, settled } = await enter('GET', `/batches/${batch.id}`);
    // An advance of 90 %: the tenth that is held back was earned too.
    expect(Number(settled.heldBack) / Number(settled.total)).toBeCloseTo(1 / 9, 4);
    const actual = (Number(paid) + Number(settled.heldBack)).toFixed(2);
    expect(first.hindsight).toMatchObject({ actualNetValue: actual, stage: 'provisional' });
    const chosen = recorded.options.find(({ id }: { id: string }) => id === recorded.chosen.optionId);
    const standing =
      Number(actual) < chosen.netValue.p10
        ? 'below'
        : Number(actual) > chosen.netValue.p90
          ? 'above'
          : 'within';
    expect(first.hindsight.standing).toBe(standing);
    expect(first.hindsight.sentence).toMatch(/^So far it has brought/);
    expect(first.hindsight.sentence).toMatch(
      /It is not settled finally: [\d,]+ USD of it is held back until then\. Its costs are not complete yet\.$/,
    );
    // 20 g of bar from 40 kg is next to nothing, by the ranges for 40 kg that were frozen with the batch.
    expect(second.hindsight).toMatchObject({ standing: 'below', verdict: 'below-another' });
    expect(second.hindsight.sentence).toContain('frozen when batch T-B2 was planned, for its 40 kg');
    expect(JSON.stringify(await enter('GET', `/decisions/${recorded.id}/report`))).toContain(
      'batch T-B1: So far',
    );
  });

  it('are named only by batches of their own lot', async () => {
    const { db } = await open();
    const { enter, send, decision, roast, seasonId } = await millWithLot(db);
    const recorded = await enter('POST', '/decisions', decision);
    const other = await enter('POST', '/lots', {
      seasonId,
      code: 'T-2',
      madeOn: '2026-05-20',
      wetMassKg: '100',
      moistureFrac: '0',
    });
    await enter('POST', `/lots/${other.id}/lab-assays`, {
      laboratory: 'Invented laboratory',
      assayedOn: '2026-05-22',
      element: 'Au',
      unit: 'g/t',
      value: '500',
    });
    const plan = {
      ...roast,
      lotId: other.id,
      code: 'T-B9',
      plannedOn: ON,
      dryMassKg: '50',
      assumptions: draws,
    };
    for (const decisionId of [recorded.id, '00000000-0000-4000-8000-000000000000']) {
      const { status, body } = await send('POST', '/batches', { ...plan, decisionId });
      expect(status).toBe(422);
      expect(body.errors[0].pointer).toBe('/decisionId');
    }
  });
});

describe('a new decision', () => {
  it('takes the usual costs of finding out where none are given', () => {
    const parsed = newDecision.parse({
      lotId: '00000000-0000-4000-8000-000000000000',
      decidedOn: ON,
      dryMassKg: '1',
      chosen: null,
      reason: 'x',
      assumptions: {},
    });
    expect(parsed.inquiryCosts).toEqual({
      labAssay: 60,
      testSmelt: 35,
      roastTest: 50,
      matteAssay: 60,
      fixedPrice: 0,
    });
  });
});
