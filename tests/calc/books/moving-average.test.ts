import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  inOrder,
  stockLedger,
  type StockMovement,
  type StockState,
} from '../../../api/calc/books/moving-average.ts';
import { sumOf } from '../../../api/calc/money.ts';

const supply = { name: 'Soda ash', unit: 'kg' };
const walk = (
  movements: readonly StockMovement[],
  more: { start?: StockState | null; listPrice?: string | null } = {},
) =>
  stockLedger({
    movements,
    start: more.start ?? null,
    supply,
    listPriceOn: () => more.listPrice ?? null,
  });
let made = 0;
const movement = (
  on: string,
  kind: StockMovement['kind'],
  quantity: string,
  amount: string | null = null,
): StockMovement => ({ key: `${kind}:${(made += 1)}`, on, kind, quantity, amount });

describe('moving weighted average', () => {
  // R. H. Hermanson, J. D. Edwards, M. W. Maher, "Accounting Principles: A Business Perspective" (Global Text
  // Project, 2010), chapter 7, weighted average under perpetual inventory procedure: 20 units left at 8.929, 178.58 in
  // all; cost of goods sold 511.42 of 690 available.
  it('is the published worked example', () => {
    const { entries, closing, findings } = walk([
      movement('2010-01-01', 'purchase', '10', '80'),
      movement('2010-03-02', 'purchase', '10', '85'),
      movement('2010-03-10', 'use', '10'),
      movement('2010-05-28', 'purchase', '20', '168'),
      movement('2010-07-14', 'use', '20'),
      movement('2010-08-12', 'purchase', '10', '90'),
      movement('2010-09-07', 'use', '10'),
      movement('2010-10-12', 'purchase', '20', '176'),
      movement('2010-11-22', 'use', '20'),
      movement('2010-12-21', 'purchase', '10', '91'),
    ]);
    expect(closing).toEqual({ quantity: '20', value: '178.58', averageCost: '8.929' });
    const out = sumOf(entries.filter(({ kind }) => kind === 'use').map(({ amount }) => amount));
    expect(out.toFixed(2)).toBe('-511.42');
    expect(entries.slice(0, 2).map(({ after }) => after.averageCost)).toEqual(['8', '8.25']);
    expect(findings).toEqual([]);
  });

  it('lets the last unit take the rest, so that nothing is left of an empty stock', () => {
    const { entries, closing } = walk([
      movement('2026-05-01', 'purchase', '3', '10'),
      movement('2026-05-02', 'use', '1'),
      movement('2026-05-03', 'use', '1'),
      movement('2026-05-04', 'use', '1'),
    ]);
    expect(entries.slice(1).map(({ amount }) => amount)).toEqual(['-3.33', '-3.34', '-3.33']);
    expect(closing).toMatchObject({ quantity: '0', value: '0.00' });
  });

  it('counts a purchase of the day before its uses, and a count after them', () => {
    const { entries } = walk([
      movement('2026-05-01', 'count', '5'),
      movement('2026-05-01', 'use', '4'),
      movement('2026-05-01', 'purchase', '10', '20'),
    ]);
    expect(entries.map(({ kind, quantity, amount }) => [kind, quantity, amount])).toEqual([
      ['purchase', '10', '20.00'],
      ['use', '-4', '-8.00'],
      ['count', '-1', '-2.00'],
    ]);
  });

  it('begins with a first count at its cost, and leaves out what was used before it', () => {
    const { entries, closing } = walk([
      movement('2026-05-01', 'use', '4'),
      movement('2026-05-02', 'count', '20', '30'),
      movement('2026-05-03', 'use', '5'),
      movement('2026-05-04', 'return', '2'),
    ]);
    expect(entries.map(({ amount }) => amount)).toEqual(['30.00', '-7.50', '3.00']);
    expect(closing).toEqual({ quantity: '17', value: '25.50', averageCost: '1.5' });
  });

  it('says when more was used than was there, costs it at the last average, and mends the cost with the next purchase', () => {
    const { entries, findings, closing } = walk([
      movement('2026-05-01', 'purchase', '10', '20'),
      movement('2026-05-02', 'use', '15'),
      movement('2026-05-03', 'purchase', '20', '60'),
    ]);
    expect(entries[1]).toMatchObject({ amount: '-30.00', after: { quantity: '-5', value: '-10.00' } });
    expect(entries[2]).toMatchObject({ amount: '60.00', shortfallAmount: '-5.00' });
    expect(closing).toEqual({ quantity: '15', value: '45.00', averageCost: '3' });
    expect(findings).toMatchObject([{ code: 'stock-negative', level: 'warning' }]);
    expect(findings[0]?.sentence).toContain('5 kg short');
  });

  it('does not mind lead that is charged and comes back within the day', () => {
    const { findings, closing } = walk([
      movement('2026-05-01', 'purchase', '10', '31'),
      movement('2026-05-02', 'use', '12'),
      movement('2026-05-02', 'return', '11'),
    ]);
    expect(findings).toEqual([]);
    expect(closing).toEqual({ quantity: '9', value: '27.90', averageCost: '3.1' });
  });

  it('takes the list price where nobody knows what it cost, and says so', () => {
    const unknown = [movement('2026-05-01', 'count', '10')];
    expect(walk(unknown, { listPrice: '1.35' })).toMatchObject({
      closing: { value: '13.50' },
      findings: [{ code: 'stock-cost-unknown' }],
    });
    expect(walk(unknown).findings[0]?.sentence).toContain('at no value');
  });
});

const quantity = fc.integer({ min: 1, max: 999_999 }).map((n) => (n / 1000).toFixed(3));
const money = fc.integer({ min: 0, max: 99_999_999 }).map((n) => (n / 100).toFixed(2));
const day = fc.integer({ min: 1, max: 28 }).map((n) => `2026-05-${String(n).padStart(2, '0')}`);
const anyMovement = fc.oneof(
  fc.record({ on: day, kind: fc.constant('purchase' as const), quantity, amount: money }),
  fc.record({
    on: day,
    kind: fc.constantFrom('use' as const, 'return' as const, 'count' as const),
    quantity,
    amount: fc.constant(null),
  }),
);
const anyMovements = fc
  .array(anyMovement, { minLength: 1, maxLength: 40 })
  .map((list) => list.map((one, index): StockMovement => ({ key: `${index}`, ...one })));

describe('any ledger', () => {
  it('keeps quantity and value to the cent: in − out = left, whatever happens', () => {
    fc.assert(
      fc.property(anyMovements, (movements) => {
        const { entries, closing } = walk(movements, { listPrice: '2.345' });
        if (closing === null) return;
        const value = sumOf(entries.flatMap(({ amount, shortfallAmount }) => [amount, shortfallAmount]));
        expect(value.toFixed(2)).toBe(closing.value);
        expect(sumOf(entries.map((one) => one.quantity)).toFixed()).toBe(closing.quantity);
        for (const { after } of entries) {
          if (Number(after.quantity) === 0) expect(after.value).toBe('0.00');
          if (Number(after.quantity) > 0) expect(Number(after.value)).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });

  it('goes on from a kept state as if all had been walked', () => {
    fc.assert(
      fc.property(anyMovements, day, (movements, until) => {
        const ordered = inOrder(movements);
        const earlier = walk(ordered.filter(({ on }) => on <= until));
        const later = ordered.filter(({ on }) => on > until);
        const whole = walk(ordered);
        expect(walk(later, { start: earlier.closing }).closing).toEqual(whole.closing);
        const fromStart = earlier.entries.length + walk(later, { start: earlier.closing }).entries.length;
        expect(fromStart).toBe(whole.entries.length);
      }),
    );
  });
});
