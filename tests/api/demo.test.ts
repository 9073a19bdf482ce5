import { expect, it } from 'vitest';
import { isUntouched, loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { millApi } from '../support/mill.ts';

describeOnEveryEngine('the demo season', (open) => {
  it('loads through the API, once, with batches and statements at different stages', async () => {
    const { db } = await open();
    await ensureMill(db, 2026);
    expect(await isUntouched(db)).toBe(true);
    await loadDemoSeason(db);
    expect(await isUntouched(db)).toBe(false);

    const { enter } = millApi(db, '2026-11-01');
    expect((await enter('GET', '/mill')).isDemo).toBe(true);
    const lots: { code: string; dryMassKg: string; parts: { dryMassKg: string }[] }[] = await enter(
      'GET',
      '/lots',
    );
    expect(lots.map(({ code }) => code).toSorted()).toEqual([
      'L-01',
      'L-02',
      'L-03',
      'L-04',
      'L-05',
      'L-06',
      'L-07',
    ]);
    for (const { dryMassKg, parts } of lots)
      expect(parts.reduce((sum, part) => sum + Number(part.dryMassKg), 0) / Number(dryMassKg)).toBeCloseTo(
        1,
        2,
      );
    // Every working day from 1 May to 14 October: 24 weeks less the weekends.
    expect(await enter('GET', '/days?limit=200')).toHaveLength(119);
    const stock: { products: { code: string; where: string }[] } = await enter('GET', '/stock?all=true');
    expect(Object.fromEntries(stock.products.map(({ code, where }) => [code, where]))).toEqual({
      'BAR-01': 'settled',
      'MATTE-01': 'worked-up-again',
      'PARCEL-01': 'at-buyer',
      'SLAG-01': 'written-off',
    });
    const insured: string[][] = [];
    for (const { id } of (await enter('GET', '/shipments')) as { id: string }[])
      insured.push(
        (await enter('GET', `/shipments/${id}/worth`)).findings.map(({ code }: { code: string }) => code),
      );
    expect(insured).toEqual([[], ['under-insured']]);
    const trials: { smelts: unknown[] }[] = await enter('GET', '/trials');
    expect(trials.flatMap((trial) => trial.smelts)).toHaveLength(12);
    const batches: { code: string; status: string; settled: { stage: string } | null }[] = await enter(
      'GET',
      '/batches',
    );
    expect(batches.map(({ code, status, settled }) => [code, status, settled?.stage ?? null])).toEqual([
      ['B-01', 'done', 'final'],
      ['B-02', 'running', null],
      ['B-03', 'done', 'provisional'],
      ['B-04', 'planned', null],
    ]);
    const statements: { number: string }[] = await enter('GET', '/statements');
    expect(statements.map((statement) => statement.number)).toEqual(['S-0001', 'S-0002', 'S-0003']);
    for (const lot of (await enter('GET', '/lots')) as { leftKg: string }[])
      expect(Number(lot.leftKg)).toBeGreaterThan(0);
    const names = JSON.stringify([await enter('GET', '/counterparties'), await enter('GET', '/mill')]);
    expect(names.match(/"name":"[^"]*"/g)?.every((name) => name.includes('invented'))).toBe(true);
  });
});
