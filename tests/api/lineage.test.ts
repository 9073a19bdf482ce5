import { expect, it } from 'vitest';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

describeOnEveryEngine('lineage and stock', (open) => {
  it('follows a bar back to its days and a day on to its bar, and says where everything is', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const { enter } = mill;
    const day = (on: string) =>
      enter('POST', '/days', {
        day: on,
        feedUnit: 't',
        feedTonnesPerUnit: '1',
        feedMoistureFrac: '0',
        concentrateWetKg: '50',
        concentrateMoistureFrac: '0',
      });
    const [first, second] = [await day('2026-06-01'), await day('2026-06-02')];
    const part = (source: string, sourceId: string, dryMassKg: string) => ({
      source,
      sourceId,
      dryMassKg,
      takenOn: '2026-06-10',
    });
    const lot = (code: string, wetMassKg: string, parts: object[], madeOn = '2026-06-10') =>
      enter('POST', '/lots', { seasonId: mill.seasonId, code, madeOn, wetMassKg, moistureFrac: '0', parts });
    const a = await lot('A', '50', [part('day', first.id, '50')]);
    const b = await lot('B', '50', [part('day', second.id, '50')]);
    const blend = await lot('C', '60', [part('lot', a.id, '40'), part('lot', b.id, '20')]);
    await enter('POST', `/lots/${blend.id}/lab-assays`, {
      laboratory: 'Invented laboratory',
      assayedOn: '2026-06-12',
      element: 'Au',
      unit: 'g/t',
      value: '400',
    });
    const batch = await enter('POST', '/batches', {
      code: 'B-1',
      lotId: blend.id,
      treatmentId: mill.treatmentId,
      termsId: mill.refinerTermsId,
      plannedOn: '2026-06-20',
      dryMassKg: '50',
      assumptions: {},
    });
    const product = (code: string, kind: string, massKg: string) =>
      enter('POST', `/batches/${batch.id}/products`, {
        code,
        kind,
        madeOn: '2026-06-22',
        massKg,
        goldFinenessFrac: kind === 'bar' ? '0.5' : null,
        goldStandardUncertaintyFrac: kind === 'bar' ? '0.001' : null,
      });
    const bar = await product('BAR-1', 'bar', '0.031103477');
    const matte = await product('MATTE-1', 'matte', '3');
    const again = await lot(
      'D',
      '3',
      [{ ...part('product', matte.id, '3'), takenOn: '2026-07-01' }],
      '2026-07-01',
    );
    const [buyer] = await enter('GET', '/counterparties');
    const shipment = await enter('POST', '/shipments', {
      code: 'SH-1',
      counterpartyId: buyer.id,
      shippedOn: '2026-06-25',
      insuredFor: '1000',
      insuredCurrency: 'USD',
      productIds: [bar.id],
    });

    const codes = async (of: string): Promise<string[]> =>
      (await enter('GET', `/lineage?of=${of}`)).nodes.map((node: { code: string }) => node.code).toSorted();
    expect(await codes(`product:${bar.id}`)).toEqual([
      '2026-06-01',
      '2026-06-02',
      'A',
      'B',
      'B-1',
      'BAR-1',
      'C',
      'SH-1',
    ]);
    // Of the other lot, only what went into the blend: the day's own line on.
    expect(await codes(`day:${first.id}`)).toEqual(
      ['2026-06-01', 'A', 'C', 'B-1', 'BAR-1', 'MATTE-1', 'D', 'SH-1'].toSorted(),
    );
    const { edges } = await enter('GET', `/lineage?of=lot:${blend.id}`);
    expect(edges).toContainEqual({
      from: `lot:${a.id}`,
      to: `lot:${blend.id}`,
      massKg: '40',
      on: '2026-06-10',
    });
    expect(await codes(`lot:${again.id}`)).toContain('2026-06-02');
    expect((await mill.send('GET', '/lineage?of=lot:nonsense')).status).toBe(422);
    expect((await mill.send('GET', '/lineage?of=lot:00000000-0000-4000-8000-000000000000')).status).toBe(404);

    const stock = await enter('GET', '/stock');
    expect(stock.lots.map(({ code, leftKg }: { code: string; leftKg: string }) => [code, leftKg])).toEqual([
      ['D', '3'],
      ['C', '10'],
      ['B', '30'],
      ['A', '10'],
    ]);
    expect(stock.products).toMatchObject([
      { code: 'BAR-1', where: 'under-way', by: 'SH-1', insuredFor: '1000' },
    ]);
    // 31.103477 g at 500 fine.
    expect(stock.products[0].goldG.value).toBeCloseTo(15.5517385, 6);
    const everything = await enter('GET', '/stock?all=true');
    expect(everything.products).toContainEqual(
      expect.objectContaining({
        code: 'MATTE-1',
        where: 'worked-up-again',
        since: '2026-07-01',
        leftKg: '0',
      }),
    );

    // Half an ounce of gold at 2,400.
    const worth = await enter('GET', `/shipments/${shipment.id}/worth`);
    expect(worth.value).toBeCloseTo(1200, 3);
    expect(worth.findings.map(({ code }: { code: string }) => code)).toEqual(['under-insured']);
    const pdf = await mill.send('GET', `/shipments/${shipment.id}/packing-list.pdf`);
    expect(pdf.headers.get('content-type')).toBe('application/pdf');
    expect(Buffer.from(pdf.body).subarray(0, 5).toString()).toBe('%PDF-');
  });
});
