import { describe, expect, it } from 'vitest';
import { receivablesByAge, totalsByAge } from '../../../api/calc/books/receivables-by-age.ts';

const item = (document: string, dueOn: string | null, open: string, currency = 'USD') => ({
  document,
  counterparty: 'Invented buyer',
  dueOn,
  open,
  currency,
});

describe('receivables by age', () => {
  it('puts every open item into the step of its overdue days, the due day itself not yet', () => {
    // Due 2026-06-30: 30 days later is 2026-07-30, 31 is 07-31; 60 is 08-29; 90 is 09-28. Counted on a calendar.
    const aged = (on: string) => receivablesByAge([item('S-1', '2026-06-30', '10')], on)[0]?.age;
    expect(aged('2026-06-30')).toBe('not yet due');
    expect(aged('2026-07-01')).toBe('1 to 30 days');
    expect(aged('2026-07-30')).toBe('1 to 30 days');
    expect(aged('2026-07-31')).toBe('31 to 60 days');
    expect(aged('2026-08-29')).toBe('31 to 60 days');
    expect(aged('2026-08-30')).toBe('61 to 90 days');
    expect(aged('2026-09-28')).toBe('61 to 90 days');
    expect(aged('2026-09-29')).toBe('over 90 days');
  });

  it('sums by currency and leaves out what is paid', () => {
    const aged = receivablesByAge(
      [
        item('S-1', '2026-06-30', '100.10'),
        item('S-2', '2026-07-20', '-20.05'),
        item('S-3', '2026-06-01', '0.00'),
        item('S-4', '2026-06-30', '7', 'EUR'),
        item('S-5', null, '5'),
      ],
      '2026-07-10',
    );
    expect(aged.map(({ document }) => document)).not.toContain('S-3');
    expect(totalsByAge(aged, 'USD')).toEqual([
      { age: 'not yet due', amount: '-15.05' },
      { age: '1 to 30 days', amount: '100.10' },
      { age: '31 to 60 days', amount: '0.00' },
      { age: '61 to 90 days', amount: '0.00' },
      { age: 'over 90 days', amount: '0.00' },
    ]);
  });
});
