import { expect, it } from 'vitest';
import { createApp } from '../../api/app.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

describeOnEveryEngine('a file of purchases', (open) => {
  it('goes in whole, once, in the mill’s currency where it names none, and says all that is wrong before', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const app = createApp({ db, now: () => new Date('2026-09-01T12:00:00Z') });
    const upload = async (csv: string, path = '/imports/purchases') => {
      const answer = await app.request(`/api${path}?fileName=bills.csv`, {
        method: 'POST',
        headers: { 'content-type': 'text/csv' },
        body: csv,
      });
      return JSON.parse((await answer.text()).trim().split('\n').at(-1) ?? '');
    };
    const purchases = () => mill.enter('GET', `/supply-purchases?supplyId=${mill.supplies.fuel}`);
    const header = 'supply,bought_on,quantity,amount,currency,document,paid_on';
    const good = `${header}\npropane,2026-06-01,45.5,85.50,,Bill 7,2026-06-03\nPropane,2026-06-01,45.5,85.50,,Bill 8,\n`;
    const { result } = await upload(good, '/imports/purchases/preview');
    expect(result.counts).toMatchObject({ rows: 2, new: 2, faulty: 0 });
    expect(await purchases()).toEqual([]);
    expect((await upload(good)).result).toMatchObject({ rowsAdded: 2, kind: 'purchases' });
    expect(await purchases()).toEqual(
      expect.arrayContaining([
        expect.objectContaining({
          boughtOn: '2026-06-01',
          quantity: '45.5',
          amount: '85.50',
          currency: 'USD',
          document: 'Bill 7',
          paidOn: '2026-06-03',
        }),
        expect.objectContaining({ document: 'Bill 8', paidOn: null }),
      ]),
    );
    expect((await upload(good)).result).toMatchObject({ rowsAdded: 0, rowsUnchanged: 2 });

    const bad = [
      header,
      // The same purchase, said to be paid on another day.
      'Propane,2026-06-01,45.5,85.50,,Bill 7,2026-06-09',
      'Propan,2026-06-02,1,1,,,',
      'Wage,2026-06-02,1,1,,,',
      'Propane,2027-06-02,1,1,,,',
      'Propane,2026-06-02,0,1,CAD,,',
      '',
    ].join('\n');
    const { problem } = await upload(bad);
    const found = problem.preview.problems.map(({ row, column }: { row: number; column: string }) => [
      row,
      column,
    ]);
    expect(problem.preview.counts).toMatchObject({ conflict: 1, faulty: 4, new: 0 });
    for (const one of [
      [3, 'supply'],
      [4, 'supply'],
      [5, 'bought_on'],
      [6, 'quantity'],
      [6, 'currency'],
    ])
      expect(found).toContainEqual(one);
    expect(await purchases()).toHaveLength(2);
  });
});
