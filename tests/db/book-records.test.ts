import { expect, it } from 'vitest';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { listBatches } from '../../db/queries/batches.ts';
import { bookRecords } from '../../db/queries/book-records.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { describeOnEveryEngine } from '../support/engines.ts';

describeOnEveryEngine('the records of the books', (open) => {
  it('are the same whether a year is read at once or month by month, and batches cost what their pages say', async () => {
    const { db } = await open();
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    const { records: year } = await bookRecords(db, { from: '2026-01-01', to: '2026-12-31' });
    expect(year.days).toHaveLength(119);
    expect(year.statements.map(({ stage }) => stage)).toEqual(
      expect.arrayContaining(['provisional', 'final']),
    );
    const costs = new Map((await listBatches(db)).map(({ code, costTotal }) => [code, costTotal]));
    expect(year.batches.length).toBeGreaterThan(3);
    for (const { code, cost } of year.batches) expect([code, cost.total]).toEqual([code, costs.get(code)]);

    const months = [];
    for (let month = 1; month <= 12; month += 1) {
      const name = `2026-${String(month).padStart(2, '0')}`;
      const last = new Date(Date.UTC(2026, month, 0)).toISOString().slice(0, 10);
      months.push((await bookRecords(db, { from: `${name}-01`, to: last })).records);
    }
    for (const kind of [
      'days',
      'lots',
      'lotParts',
      'lotPurchases',
      'testSmelts',
      'products',
      'shipments',
      'statements',
      'payments',
      'supplyPurchases',
      'supplyCounts',
      'expenses',
      'writeOffs',
    ] as const)
      expect([kind, months.flatMap((one): unknown[] => one[kind])]).toEqual([
        kind,
        kind === 'statements' ? expect.arrayContaining(year[kind]) : year[kind],
      ]);
    const entries = (of: typeof year) => of.stockEntries.map(({ key, amount }) => `${key} ${amount}`);
    expect(months.flatMap(entries).toSorted()).toEqual(entries(year).toSorted());
  });
});
