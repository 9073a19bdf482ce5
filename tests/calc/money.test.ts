import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allocate, Dec, grouped, isDecimalText, sumOf, sumOfTexts } from '../../api/calc/money.ts';

describe('decimal texts', () => {
  it.each(['0', '12', '-0.05', '1234.50', '007'])('takes %s', (text) => {
    expect(isDecimalText(text)).toBe(true);
  });
  it.each(['', '.5', '5.', '1e3', '1,000', '+1', ' 1', 'NaN', '--1'])('refuses “%s”', (text) => {
    expect(isDecimalText(text)).toBe(false);
  });
  it.each([
    ['0', '0'],
    ['999', '999'],
    ['1000', '1,000'],
    ['-12345.60', '−12,345.60'],
    ['1234567.0001', '1,234,567.0001'],
  ])('groups %s as %s', (text, shown) => {
    expect(grouped(text)).toBe(shown);
  });
  it('adds tenths exactly, as binary fractions do not', () => {
    expect(sumOf(['0.1', '0.2']).toFixed()).toBe('0.3');
    expect(0.1 + 0.2).not.toBe(0.3);
  });
});

describe('sums of texts', () => {
  const text = fc
    .tuple(fc.bigInt({ min: -(10n ** 18n), max: 10n ** 18n }), fc.integer({ min: 0, max: 6 }))
    .map(([whole, decimals]) => new Dec(`${whole}e-${decimals}`).toFixed(decimals));

  it('are the same as those of decimals, beyond what a number holds too', () => {
    fc.assert(
      fc.property(fc.array(text, { maxLength: 30 }), (texts) => {
        expect(sumOfTexts(texts).toFixed()).toBe(sumOf(texts).toFixed());
      }),
    );
    expect(sumOfTexts([]).toFixed()).toBe('0');
    expect(sumOfTexts(['9007199254740993', '-0.5', '0.50']).toFixed()).toBe('9007199254740993');
    expect(sumOfTexts(['9007199254740991', '1.25', '-1']).toFixed()).toBe('9007199254740991.25');
  });

  it('are grouped as the runtime groups them', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: -(10n ** 20n), max: 10n ** 20n }), (whole) => {
        expect(grouped(`${whole}.50`)).toBe(`${whole.toLocaleString('en-US').replace('-', '−')}.50`);
      }),
    );
  });
});

describe('allocation', () => {
  it('gives the cent that is left to the last', () => {
    const parts = allocate({ amount: new Dec('100'), shares: [1, 1, 1].map((s) => new Dec(s)), decimals: 2 });
    expect(parts.map((p) => p.toFixed(2))).toEqual(['33.33', '33.33', '33.34']);
  });
  it('adds up to the whole, each part within a cent of its share', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1e9, max: 1e9 }),
        fc.array(fc.integer({ min: 1, max: 1000 }), { minLength: 1, maxLength: 8 }),
        (cents, shares) => {
          const amount = new Dec(cents).div(100);
          const parts = allocate({ amount, shares: shares.map((s) => new Dec(s)), decimals: 2 });
          expect(sumOf(parts).eq(amount)).toBe(true);
          const whole = shares.reduce((a, b) => a + b, 0);
          parts.slice(0, -1).forEach((part, i) => {
            const exact = amount.times(shares[i] ?? 0).div(whole);
            expect(part.minus(exact).abs().lt('0.01')).toBe(true);
          });
        },
      ),
    );
  });
});
