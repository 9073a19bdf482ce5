import { expect, it } from 'vitest';
import { createApp } from '../../api/app.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

describeOnEveryEngine('a file of days', (open) => {
  it('goes in whole, once, with the settings where it is silent, and says all that is wrong before', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const settings = await mill.enter('GET', '/mill');
    await mill.enter('PUT', '/mill', { ...settings, feedUnit: 'loader', feedTonnesPerUnit: '2.4' });
    const app = createApp({ db, now: () => new Date('2026-09-01T12:00:00Z') });
    const upload = async (csv: string, path = '/imports/days') => {
      const answer = await app.request(`/api${path}?fileName=days.csv`, {
        method: 'POST',
        headers: { 'content-type': 'text/csv' },
        body: csv,
      });
      return JSON.parse((await answer.text()).trim().split('\n').at(-1) ?? '');
    };
    const header = 'day,feed_quantity,concentrate_wet_kg,concentrate_moisture_percent,people,used:Propane';
    const good = `${header}\n2026-06-01,5,20,10,"Ada 8; Bo 7.5",12.5\n2026-06-02,,,,,\n`;
    const { result } = await upload(good, '/imports/days/preview');
    expect(result.counts).toMatchObject({ rows: 2, new: 2, faulty: 0 });
    expect((await upload(good)).result).toMatchObject({ rowsAdded: 2, kind: 'days' });
    expect(await mill.enter('GET', '/days')).toMatchObject([
      {
        day: '2026-06-01',
        feedUnit: 'loader',
        feedDryT: '12',
        concentrateDryKg: '18',
        supplies: [{ supplyId: mill.supplies.fuel, quantity: '12.5' }],
        labour: [
          { person: 'Ada', supplyId: mill.supplies.wage, hours: '8' },
          { person: 'Bo', supplyId: mill.supplies.wage, hours: '7.5' },
        ],
      },
      { day: '2026-06-02', feedDryT: null, concentrateDryKg: null },
    ]);
    expect((await upload(good)).result).toMatchObject({ rowsAdded: 0, rowsUnchanged: 2 });

    const bad = `${header}\n2026-06-01,6,20,10,,\n2031-06-03,5,20,,Ada,x\n`;
    const { problem } = await upload(bad);
    const found = problem.preview.problems.map(({ row, column }: { row: number; column: string }) => [
      row,
      column,
    ]);
    expect(found).toContainEqual([3, 'day']);
    expect(found).toContainEqual([3, 'people']);
    expect(found).toContainEqual([3, 'used:Propane']);
    expect(problem.preview.counts.conflict).toBe(1);
    expect(await mill.enter('GET', '/days')).toHaveLength(2);
  });
});
