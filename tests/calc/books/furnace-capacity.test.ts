import { describe, expect, it } from 'vitest';
import { furnaceCapacity, monthsBetween } from '../../../api/calc/books/furnace-capacity.ts';

const season = { startsOn: '2026-05-10', endsOn: '2026-07-05' };

describe('furnace hours', () => {
  // By hand: 10 to 31 May are 22 days, June has 30, 1 to 5 July are 5; at 6.5 h a day.
  it('are days of the season in the month × hours a day', () => {
    const months = furnaceCapacity({ season, furnaceHoursPerDay: '6.5', batches: [] });
    expect(months.map(({ month, days, availableHours }) => [month, days, availableHours])).toEqual([
      ['2026-05-01', 22, '143'],
      ['2026-06-01', 30, '195'],
      ['2026-07-01', 5, '32.5'],
    ]);
  });

  it('are taken by the batches of the month', () => {
    const [may, june] = furnaceCapacity({
      season,
      furnaceHoursPerDay: null,
      batches: [
        { code: 'B-1', on: '2026-05-31', furnaceHours: '13.5', dryMassKg: '120' },
        { code: 'B-2', on: '2026-06-01', furnaceHours: '8', dryMassKg: '60' },
        { code: 'B-3', on: '2026-06-30', furnaceHours: '1.6', dryMassKg: '12.5' },
      ],
    });
    expect(may).toMatchObject({ availableHours: null, plannedHours: '13.5', plannedBatches: ['B-1'] });
    expect(june).toMatchObject({
      plannedHours: '9.6',
      plannedBatches: ['B-2', 'B-3'],
      treatedDryKg: '72.5',
    });
  });

  it('knows the months of a season over the turn of the year', () => {
    expect(monthsBetween('2026-11-30', '2027-02-01')).toEqual([
      '2026-11-01',
      '2026-12-01',
      '2027-01-01',
      '2027-02-01',
    ]);
  });
});
