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
    expect(await enter('GET', '/lots')).toHaveLength(3);
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
