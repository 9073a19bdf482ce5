import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { walkCost } from '../../../api/calc/books/walk-cost.ts';
import { Dec, sumOf } from '../../../api/calc/money.ts';

describe('cost that follows material', () => {
  it('goes by dry mass, in its order, and the last takes the rest', () => {
    // 100 kg cost 100.00; 33 kg take 33.00. Then 1.00 more comes: 68.00 for 67 kg, 33 kg take 33.49; 34 kg the rest.
    const { taken, unborne } = walkCost({
      massKg: '100',
      comes: [
        { on: '2026-06-01', amount: '100.00' },
        { on: '2026-06-03', amount: '1.00' },
      ],
      goes: [
        { key: 'a', on: '2026-06-02', massKg: '33' },
        { key: 'b', on: '2026-06-03', massKg: '33' },
        { key: 'c', on: '2026-06-04', massKg: '34' },
      ],
    });
    expect([...taken]).toEqual([
      ['a', '33.00'],
      ['b', '33.49'],
      ['c', '34.51'],
    ]);
    expect(unborne).toEqual([]);
  });

  it('lets the rest bear what test smelts use up', () => {
    // 10 kg cost 50.00, tests use 0.5 kg: 9.5 kg bear it, half of them 25.00.
    const { taken } = walkCost({
      massKg: '10',
      comes: [{ on: '2026-06-01', amount: '50.00' }],
      goes: [
        { key: 'test', on: '2026-06-02', massKg: '0.5', takesNoCost: true },
        { key: 'half', on: '2026-06-03', massKg: '4.75' },
      ],
    });
    expect([...taken]).toEqual([['half', '25.00']]);
  });

  it('names what nothing is left to bear: a day without concentrate, an invoice that comes too late', () => {
    expect(
      walkCost({ massKg: null, comes: [{ on: '2026-06-01', amount: '416.00' }], goes: [] }).unborne,
    ).toEqual([{ on: '2026-06-01', amount: '416.00' }]);
    const late = walkCost({
      massKg: '5',
      comes: [{ on: '2026-06-09', amount: '70.00' }],
      goes: [{ key: 'all', on: '2026-06-02', massKg: null }],
    });
    expect(late.unborne).toEqual([{ on: '2026-06-09', amount: '70.00' }]);
    expect(late.taken.get('all')).toBe('0.00');
  });

  it('loses no cent, whatever comes and goes', () => {
    const day = fc.integer({ min: 1, max: 28 }).map((n) => `2026-06-${String(n).padStart(2, '0')}`);
    fc.assert(
      fc.property(
        fc.array(fc.record({ on: day, cents: fc.integer({ min: 0, max: 500_000 }) }), { maxLength: 8 }),
        fc.array(fc.record({ on: day, grams: fc.integer({ min: 1, max: 4000 }), none: fc.boolean() }), {
          maxLength: 8,
        }),
        (comes, goes) => {
          const costs = comes.map(({ on, cents }) => ({ on, amount: (cents / 100).toFixed(2) }));
          const { taken, unborne } = walkCost({
            massKg: '10',
            comes: costs,
            goes: [
              ...goes.map(({ on, grams, none }, at) => ({
                key: `out ${at}`,
                on,
                massKg: String(grams / 1000),
                takesNoCost: none,
              })),
              { key: 'last', on: '2026-07-01', massKg: null },
            ],
          });
          const out = sumOf([...taken.values(), ...unborne.map(({ amount }) => amount)]);
          expect(out.toFixed(2)).toBe(sumOf(costs.map(({ amount }) => amount)).toFixed(2));
          for (const amount of taken.values()) expect(new Dec(amount).isNegative()).toBe(false);
        },
      ),
    );
  });
});
