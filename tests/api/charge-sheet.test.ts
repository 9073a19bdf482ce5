import { expect, it } from 'vitest';
import type { Report } from '../../reports/model/report.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

/** A small invented mill with a planned batch of a pyritic lot. */
async function plannedBatch(db: Parameters<typeof smallMill>[0]) {
  const mill = await smallMill(db, '2026-06-08');
  const lot = await mill.enter('POST', '/lots', {
    seasonId: mill.seasonId,
    code: 'T-1',
    madeOn: '2026-05-20',
    wetMassKg: '250.0',
    moistureFrac: '0.08',
    minerals: [
      { mineral: 'pyrite', massFrac: '0.6' },
      { mineral: 'quartz', massFrac: '0.4' },
    ],
  });
  await mill.enter('POST', `/lots/${lot.id}/lab-assays`, {
    laboratory: 'Invented laboratory',
    assayedOn: '2026-05-22',
    element: 'Au',
    unit: 'g/t',
    value: '400',
  });
  const plan = (code: string, treatmentId: string | null, termsId: string) =>
    mill.enter('POST', '/batches', {
      code,
      lotId: lot.id,
      treatmentId,
      termsId,
      plannedOn: '2026-06-05',
      dryMassKg: '64',
      assumptions: {},
    });
  return {
    ...mill,
    batch: await plan('T-B1', mill.treatmentId, mill.refinerTermsId),
    sold: await plan('T-B2', null, mill.smelterTermsId),
  };
}

const factsOf = (report: Report): Record<string, string> =>
  Object.fromEntries(
    report.blocks.flatMap((block) =>
      block.kind === 'facts' ? block.facts.map(({ label, value }) => [label, value]) : [],
    ),
  );
const noticesOf = (report: Report): string =>
  report.blocks.flatMap((block) => (block.kind === 'notice' ? [block.text] : [])).join('\n');

describeOnEveryEngine('charge sheets', (open) => {
  it('are worked from the records as they stand, for the page and as a PDF', async () => {
    const { db } = await open();
    const { enter, send, batch, supplies, treatmentId } = await plannedBatch(db);
    const sheetOf = (): Promise<Report> => enter('GET', `/batches/${batch.id}/charge-sheet`);

    // 64 kg at 10 kg: 6 charges and one of 4 kg; 40 % lead: 25.6 kg.
    const bare = await sheetOf();
    expect(bare.blocks[0]).toMatchObject({
      kind: 'lead',
      text: expect.stringMatching(
        /^Batch T-B1 is 7 charges, 6 of 10 kg and a last one of 4 kg\. .* 25\.600 kg of lead/,
      ),
    });
    expect(noticesOf(bare)).toContain('volume is not given');
    expect(noticesOf(bare)).toContain('cupels are not counted');
    expect(factsOf(bare)['Roast pans']).toBe('7 pan loads, one for each charge');

    const [crucible] = (await enter('GET', '/supplies')).filter(
      (one: { id: string }) => one.id === supplies.crucible,
    );
    expect(crucible).toMatchObject({ crucibleVolumeMl: null, cupelLeadCapacityG: null });
    await enter('PUT', `/supplies/${crucible.id}`, {
      name: 'Crucible',
      kind: 'crucible',
      unit: 'each',
      crucibleVolumeMl: 35_000,
      version: crucible.version,
    });
    const cupel = await enter('POST', '/supplies', {
      name: 'Cupel',
      kind: 'cupel',
      unit: 'each',
      cupelLeadCapacityG: 1000,
    });
    const treatment = await enter('GET', `/treatments/${treatmentId}`);
    expect(treatment).toMatchObject({ cupelSupplyId: null, roastPanKg: null });
    await enter('PUT', `/treatments/${treatmentId}`, {
      ...treatment,
      cupelSupplyId: cupel.id,
      roastPanKg: 2.5,
      recipe: treatment.recipe.map((line: { supplyId: string }) =>
        line.supplyId === supplies.soda ? { ...line, gramsPerHundredG: '62.55' } : line,
      ),
    });
    const mill = await enter('GET', '/mill');
    expect(mill.weighingStepG).toBe('1');
    await enter('PUT', '/mill', { ...mill, weighingStepG: '5' });

    const full = await sheetOf();
    expect(noticesOf(full)).not.toContain('volume is not given');
    // A charge of 10 kg gives at most 4 kg × 0.95 of lead: 4 cupels; the last 1.52 kg: 2.
    expect(factsOf(full)['Cupels']).toBe('26 × Cupel');
    expect(factsOf(full)['Roast pans']).toBe('26 pan loads of at most 2.5 kg');
    const words = JSON.stringify(full);
    // 62.55 g per 100 g of 10 kg is 6255 g, of 4 kg 2502 g, to the next 5 g.
    for (const figure of ['6,255', '2,500', '40.030']) expect(words).toContain(figure);
    expect(noticesOf(full)).toContain('Soda ash from 60 to 62.55 g per 100 g');

    const pdf = await send('GET', `/batches/${batch.id}/charge-sheet.pdf`);
    expect(pdf.headers.get('content-type')).toBe('application/pdf');
    expect(pdf.headers.get('content-disposition')).toBe('inline; filename="charge-sheet-T-B1.pdf"');
    expect(new TextDecoder('latin1').decode(pdf.body.slice(0, 5))).toBe('%PDF-');
  });

  it('are refused where nothing is charged, and sizes where they do not belong', async () => {
    const { db } = await open();
    const { send, sold } = await plannedBatch(db);
    for (const path of [`/batches/${sold.id}/charge-sheet`, `/batches/${sold.id}/charge-sheet.pdf`]) {
      const answer = await send('GET', path);
      expect(answer.status).toBe(404);
      expect(answer.body.detail).toContain('sold as concentrate');
    }
    expect((await send('GET', '/batches/00000000-0000-4000-8000-000000000000/charge-sheet')).status).toBe(
      404,
    );

    const supply = { name: 'Odd', kind: 'reagent', unit: 'kg' };
    for (const [field, value, says] of [
      ['crucibleVolumeMl', 500, /anything but a crucible/],
      ['cupelLeadCapacityG', 500, /anything but a cupel/],
    ] as const) {
      const answer = await send('POST', '/supplies', { ...supply, [field]: value });
      expect(answer.status).toBe(422);
      expect(answer.body.errors[0]).toMatchObject({
        pointer: `/${field}`,
        detail: expect.stringMatching(says),
      });
    }
    const crucible = { name: 'Odd', kind: 'crucible', unit: 'each', crucibleVolumeMl: 0 };
    expect((await send('POST', '/supplies', crucible)).body.errors[0].pointer).toBe('/crucibleVolumeMl');
  });

  it('say what to buy beyond the stock of the day, whatever the batch itself has used of it', async () => {
    const { db } = await open();
    const { enter, batch, supplies } = await plannedBatch(db);
    const buy = (quantity: string) => ({
      supplyId: supplies.soda,
      boughtOn: '2026-06-01',
      quantity,
      amount: '70',
      currency: 'USD',
    });
    await enter('POST', '/supply-purchases', buy('30'));
    const rowOf = async (): Promise<Record<string, string>> => {
      const report: Report = await enter('GET', `/batches/${batch.id}/charge-sheet`);
      const rows = report.blocks.flatMap((block) => (block.kind === 'table' ? block.rows : []));
      return rows.find((row) => row.cells['name'] === 'Soda ash' && 'toBuy' in row.cells)?.cells ?? {};
    };
    // 60 g per 100 g of 64 kg are 38.4 kg: 8.4 beyond the 30, at 1.40.
    const needed = { quantity: '38.400 kg', inStock: '30 kg', toBuy: '8.4 kg', amount: '11.76' };
    expect(await rowOf()).toMatchObject(needed);
    const actuals = {
      status: 'running',
      startedOn: '2026-06-07',
      finishedOn: null,
      furnaceHours: null,
      labourHours: null,
      leadInKg: null,
      leadBackKg: null,
      consumption: [{ supplyId: supplies.soda, quantity: '20' }],
      remarks: '',
      version: batch.version,
    };
    await enter('PUT', `/batches/${batch.id}`, actuals);
    expect(await rowOf()).toMatchObject(needed);
  });
});
