import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Dec } from '../../api/calc/money.ts';
import {
  halfUp,
  roundBy,
  roundedText,
  roundingSentence,
  type RoundingRule,
} from '../../api/calc/rounding.ts';

const rule = (
  name: RoundingRule['rule'],
  decimals: number,
  multipleOf: string | null = null,
): RoundingRule => ({
  decimals,
  rule: name,
  multipleOf,
});

describe('rounding rules', () => {
  // IEEE 754-2008, 4.3: roundTiesToAway, roundTiesToEven, roundTowardZero on decimal ties.
  it.each([
    ['2.5', '3', '2', '2'],
    ['3.5', '4', '4', '3'],
    ['-2.5', '-3', '-2', '-2'],
    ['0.5', '1', '0', '0'],
    ['-0.4', '0', '0', '0'],
    ['1.49999', '1', '1', '1'],
  ])('rounds %s half up to %s, half even to %s, truncated to %s', (value, up, even, cut) => {
    expect(roundedText(new Dec(value), rule('half-up', 0))).toBe(up);
    expect(roundedText(new Dec(value), rule('half-even', 0))).toBe(even);
    expect(roundedText(new Dec(value), rule('truncate', 0))).toBe(cut);
  });

  it('keeps the decimals that binary fractions lose', () => {
    expect(roundedText(new Dec('1.005'), halfUp(2))).toBe('1.01');
    expect(roundedText(new Dec('1.1'), halfUp(4))).toBe('1.1000');
  });

  it('rounds gross ounces of gold bars down to 0.025 oz (LBMA, The Good Delivery Rules, Annex C)', () => {
    expect(roundedText(new Dec('401.149'), rule('truncate', 3, '0.025'))).toBe('401.125');
    expect(roundedText(new Dec('401.125'), rule('truncate', 3, '0.025'))).toBe('401.125');
    expect(roundedText(new Dec('401.1249'), rule('truncate', 3, '0.025'))).toBe('401.100');
  });

  it('does not move by more than half a unit, nor twice', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1e9, max: 1e9 }),
        fc.integer({ min: 0, max: 6 }),
        fc.constantFrom('half-up' as const, 'half-even' as const, 'truncate' as const),
        (n, decimals, name) => {
          const value = new Dec(n).div('1e5');
          const rounded = roundBy(value, rule(name, decimals));
          const unit = new Dec(10).pow(-decimals);
          const off = rounded.minus(value).abs();
          expect(name === 'truncate' ? off.lt(unit) : off.lte(unit.div(2))).toBe(true);
          expect(roundBy(rounded, rule(name, decimals)).eq(rounded)).toBe(true);
        },
      ),
    );
  });

  it('says itself in words', () => {
    expect(roundingSentence(halfUp(1))).toBe('to 1 decimal, halves up');
    expect(roundingSentence(rule('truncate', 3, '0.025'))).toBe('to multiples of 0.025, the rest cut off');
  });
});
