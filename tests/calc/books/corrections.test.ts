import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { figuresLess, monthName, sumFigures, type BookEntry } from '../../../api/calc/books/book-entry.ts';
import { correctionsOf, shownIn, type FrozenMonth } from '../../../api/calc/books/corrections.ts';
import { monthFigures } from '../../../api/calc/books/month-figures.ts';

const entry = (key: string, on: string, figures: Record<string, string>): BookEntry => ({
  key,
  on,
  label: key,
  ref: { table: 'expense', id: key },
  figures,
});

const june: FrozenMonth = {
  month: '2026-06',
  entries: [entry('a', '2026-06-03', { cost: '10.00' }), entry('b', '2026-06-20', { cost: '4.00', kg: '2' })],
  corrections: [],
};

describe('corrections of closed months', () => {
  it('say what an entry was, what it is and the difference, figure by figure', () => {
    const current = [
      entry('a', '2026-06-03', { cost: '10.00' }),
      entry('b', '2026-06-20', { cost: '4.50', kg: '2' }),
    ];
    expect(correctionsOf({ frozen: [june], current })).toMatchObject([
      {
        key: 'b',
        corrects: '2026-06',
        was: { cost: '4', kg: '2' },
        is: { cost: '4.5', kg: '2' },
        difference: { cost: '0.5' },
      },
    ]);
  });

  it('tell what was removed, what was entered late, and what was moved to an open month', () => {
    const current = [
      entry('b', '2026-07-02', { cost: '4.00', kg: '2' }),
      entry('c', '2026-06-30', { cost: '7' }),
    ];
    expect(correctionsOf({ frozen: [june], current })).toMatchObject([
      { key: 'a', is: {}, difference: { cost: '-10' } },
      { key: 'b', is: {}, difference: { cost: '-4', kg: '-2' } },
      { key: 'c', was: {}, difference: { cost: '7' } },
    ]);
  });

  it('count once: what a closed month has frozen as a correction is not told again', () => {
    const current = [entry('a', '2026-06-03', { cost: '12.00' }), ...june.entries.slice(1)];
    const corrections = correctionsOf({ frozen: [june], current });
    const july: FrozenMonth = { month: '2026-07', entries: [], corrections };
    expect(correctionsOf({ frozen: [june, july], current })).toEqual([]);
    const again = [entry('a', '2026-06-03', { cost: '11.00' }), ...june.entries.slice(1)];
    expect(correctionsOf({ frozen: [june, july], current: again })).toMatchObject([
      { key: 'a', was: { cost: '12' }, is: { cost: '11' }, difference: { cost: '-1' } },
    ]);
  });

  it('show in the month in which the record was changed, but never in a closed one', () => {
    expect(shownIn('2026-11-25', '2026-10')).toBe('2026-11');
    expect(shownIn('2026-09-30', '2026-10')).toBe('2026-10');
    expect(shownIn(null, '2026-10')).toBe('2026-10');
  });

  it('make the sum of all months that of the records as they stand, whatever was changed and closed when', () => {
    const keys = ['a', 'b', 'c', 'd', 'e'];
    const figures = fc.dictionary(
      fc.constantFrom('cost', 'kg'),
      fc.integer({ min: -500, max: 500 }).map((cents) => (cents / 100).toFixed(2)),
    );
    const put = fc.record({
      kind: fc.constant('put' as const),
      key: fc.constantFrom(...keys),
      month: fc.integer({ min: 1, max: 6 }),
      figures,
    });
    const remove = fc.record({ kind: fc.constant('remove' as const), key: fc.constantFrom(...keys) });
    const close = fc.record({
      kind: fc.constant('close' as const),
      lateFrac: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(fc.oneof(put, put, remove, close), { maxLength: 40 }), (steps) => {
        const records = new Map<string, BookEntry>();
        const frozen: FrozenMonth[] = [];
        for (const step of steps) {
          if (step.kind === 'put')
            records.set(step.key, entry(step.key, `2026-0${step.month}-15`, step.figures));
          else if (step.kind === 'remove') records.delete(step.key);
          else if (frozen.length < 6) {
            const month = `2026-0${frozen.length + 1}`;
            // Some corrections are shown in a later month than the one that is closed.
            const all = correctionsOf({ frozen, current: [...records.values()] });
            frozen.push({
              month,
              entries: [...records.values()].filter(({ on }) => monthName(on) === month),
              corrections: all.slice(0, Math.ceil(all.length * (1 - step.lateFrac))),
            });
          }
        }
        const closed = new Set(frozen.map(({ month }) => month));
        const open = [...records.values()].filter(({ on }) => !closed.has(monthName(on)));
        const sums = [
          ...frozen.map((month) => monthFigures(month.entries, month.corrections)),
          monthFigures(open, correctionsOf({ frozen, current: [...records.values()] })),
        ];
        const asTheyStand = sumFigures([...records.values()].map((one) => one.figures));
        expect(figuresLess(sumFigures(sums), asTheyStand)).toEqual({});
      }),
      { numRuns: 500 },
    );
  });
});
