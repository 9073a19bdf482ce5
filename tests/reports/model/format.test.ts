import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatAmount,
  formatDate,
  formatDecimal,
  formatEstimate,
  formatRange,
  formatMoney,
  formatRounded,
  sumAsPrinted,
  sumText,
} from '../../../reports/model/format.ts';

const plainMinus = (text: string) => text.replace('−', '-');

describe('formatDecimal', () => {
  it('groups as ECMA-402 number formatting does, digit for digit, far beyond a float', () => {
    const decimals = fc.tuple(
      fc.bigInt({ min: 1n, max: 10n ** 24n }),
      fc.stringMatching(/^[0-9]{1,8}$/),
      fc.constantFrom('', '-'),
    );
    fc.assert(
      fc.property(decimals, ([whole, fraction, sign]) => {
        const text = `${sign}${whole}.${fraction}` as const;
        const places = fraction.length;
        const format = new Intl.NumberFormat('en-US', {
          minimumFractionDigits: places,
          maximumFractionDigits: places,
        });
        expect(plainMinus(formatDecimal(text))).toBe(format.format(text as `${number}`));
      }),
    );
  });

  it('prints a minus sign, but none before nought', () => {
    expect(formatDecimal('-1234567.80')).toBe('−1,234,567.80');
    expect(formatDecimal('-0.00')).toBe('0.00');
  });

  it.each(['', '1e5', '1,000', 'NaN', '--1', '1.'])('refuses %j', (text) => {
    expect(() => formatDecimal(text)).toThrow('not a plain decimal number');
  });
});

describe('money', () => {
  it('prints all its decimals and its currency', () => {
    expect(formatMoney('-1234.5', 2, 'USD')).toBe('−1,234.50 USD');
    expect(formatAmount('1234', 0)).toBe('1,234');
  });

  it('is never rounded in print', () => {
    expect(() => formatAmount('0.005', 2)).toThrow('more than 2 decimals');
  });

  it('sums exactly', () => {
    expect(sumText(['0.1', '0.2', '-0.3'])).toBe('0');
    expect(sumAsPrinted(['1.50', '2.5'])).toBe('4.00');
    expect(sumAsPrinted([])).toBe('0');
  });
});

describe('estimates', () => {
  it('round half up', () => {
    expect(formatRounded('2.345', 2)).toBe('2.35');
    expect(formatEstimate(1234.567, 1)).toBe('1,234.6');
    expect(formatEstimate(1e-9, 2)).toBe('0.00');
    expect(formatEstimate(Number.NaN, 2)).toBe('–');
  });

  it('stand with half their range to two digits: 10.057 62 Ω with 27 mΩ is 10.058 Ω (JCGM 100:2008, 7.2.6)', () => {
    expect(formatRange({ p10: 10.03062, p50: 10.05762, p90: 10.08462 })).toBe('10.058 (10.031 to 10.085)');
  });

  it('round all three to tens or hundreds where the range is that wide', () => {
    expect(formatRange({ p10: 11_400, p50: 13_104, p90: 14_808 })).toBe('13,100 (11,400 to 14,800)');
    expect(formatRange({ p10: 84.4, p50: 84.4, p90: 84.4 })).toBe('84.4');
  });
});

describe('formatDate', () => {
  it('writes the month as a word', () => {
    expect(formatDate('2026-07-03')).toBe('3 Jul 2026');
  });

  it.each(['', '03/07/2026', '2026-13-01'])('refuses %j', (text) => {
    expect(() => formatDate(text)).toThrow('not an ISO date');
  });
});
