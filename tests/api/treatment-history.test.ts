import { expect, it } from 'vitest';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

describeOnEveryEngine('what other lots showed of a treatment', (open) => {
  it('comes with the facts of a lot, up to the day, and never from the lot itself', async () => {
    const { db } = await open();
    const { enter, seasonId, treatmentId, balanceId } = await smallMill(db);
    const lotWith = async (code: string, smeltedOn: string | null): Promise<string> => {
      const { id } = await enter('POST', '/lots', {
        seasonId,
        code,
        madeOn: '2026-05-20',
        wetMassKg: '250',
        moistureFrac: '0',
      });
      if (smeltedOn === null) return id;
      await enter('POST', `/lots/${id}/lab-assays`, {
        laboratory: 'Invented laboratory',
        assayedOn: '2026-05-22',
        element: 'Au',
        unit: 'g/t',
        value: '700',
        standardUncertainty: '7',
      });
      const trial = await enter('POST', '/trials', { lotId: id, name: 'Roasted', treatmentId });
      for (const [sample, partedGoldMg] of [
        ['1', 60],
        ['2', 61],
        ['3', 59],
      ] as const)
        await enter('POST', '/test-smelts', {
          trialId: trial.id,
          sample,
          smeltedOn,
          sampleMassG: 100,
          roasted: false,
          beadMg: 250,
          partedGoldMg,
          sampleBalanceId: balanceId,
          beadBalanceId: balanceId,
        });
      return id;
    };
    const early = await lotWith('T-1', '2026-05-25');
    await lotWith('T-2', '2026-07-25');
    const fresh = await lotWith('T-3', null);
    const historyOf = async (lotId: string, on: string) =>
      (await enter('GET', `/decisions/facts?lotId=${lotId}&on=${on}`)).history as {
        lotCode: string;
        treatmentId: string;
        Au: { logitMean: number } | null;
      }[];
    const codes = async (lotId: string, on: string) =>
      (await historyOf(lotId, on)).map(({ lotCode }) => lotCode);
    expect(await codes(fresh, '2026-08-01')).toEqual(['T-1', 'T-2']);
    expect(await codes(fresh, '2026-06-05')).toEqual(['T-1']);
    expect(await codes(early, '2026-08-01')).toEqual(['T-2']);
    const [told] = await historyOf(fresh, '2026-06-05');
    // 600 of 700 g/t recovered: the lot speaks for less than the stated 93 %.
    expect(told).toMatchObject({ treatmentId, Au: { logitMean: expect.any(Number) } });
    expect(told?.Au?.logitMean).toBeLessThan(Math.log(0.93 / 0.07));

    const [smelt] = (await enter('GET', `/trials?lotId=${early}`))[0].smelts;
    const { id, ...fields } = smelt;
    await enter('PUT', `/test-smelts/${id}`, { ...fields, setAsideReason: 'Spilled.' });
    const [changed] = await historyOf(fresh, '2026-06-05');
    expect(changed?.Au?.logitMean).not.toBe(told?.Au?.logitMean);
  });
});
