import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupDigits } from '../../reports/charts/number-text.ts';
import { editableText, numberOf, parseDecimal, shiftPoint } from '../../web/lib/parse-decimal.ts';

const point = { decimalComma: false };
const comma = { decimalComma: true };

describe('parseDecimal', () => {
  it('puts a stored number into a field as short as it can be', () => {
    expect(editableText(0.1, point)).toBe('0.1');
    expect(editableText(1e-7, point)).toBe('0.0000001');
    expect(editableText('12.50', comma)).toBe('12,50');
    expect(editableText(null, point)).toBe('');
  });

  it.each([
    ['', null],
    ['  ', null],
    ['12', '12'],
    ['12.50', '12.50'],
    ['.5', '0.5'],
    ['5.', '5'],
    ['007.10', '7.10'],
    ['-3.2', '-3.2'],
    ['\u22123.2', '-3.2'],
    ['-0.00', '0.00'],
    ['1 240.5', '1240.5'],
    ['1\u202f240\u202f000', '1240000'],
  ])('reads “%s” with a decimal point', (typed, decimal) => {
    expect(parseDecimal(typed, point)).toEqual({ ok: true, decimal });
  });

  it('reads a decimal comma only where the owner works with one', () => {
    expect(parseDecimal('12,5', comma)).toEqual({ ok: true, decimal: '12.5' });
    expect(parseDecimal('1 240,5', comma)).toEqual({ ok: true, decimal: '1240.5' });
    expect(parseDecimal('12,5', point).ok).toBe(false);
  });

  it.each(['1,240', '1,240.50', '1.240,50', '12,5'])(
    'refuses “%s” as ambiguous with a decimal point',
    (typed) => {
      expect(parseDecimal(typed, point)).toEqual({
        ok: false,
        message: `“${typed}” has a comma, and it is not clear whether that marks thousands or decimals. Write decimals after a point, and nothing between thousands.`,
      });
    },
  );

  it.each(['1.240', '12.5', '1.240,50'])('refuses “%s” as ambiguous with a decimal comma', (typed) => {
    const parsed = parseDecimal(typed, comma);
    expect(parsed).toMatchObject({ ok: false });
  });

  it.each([
    '1e3',
    'abc',
    '1.2.3',
    '12 34',
    '1 2',
    '+5',
    '--1',
    '12g',
    '٣',
    '.',
    '-',
    '0x10',
    'NaN',
    'Infinity',
  ])('refuses “%s” as no number', (typed) => {
    expect(parseDecimal(typed, point)).toMatchObject({ ok: false });
  });

  it('reads back what the program prints and what it puts into a field', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e12, max: 1e12, noNaN: true }), (value) => {
        const text = editableText(value, point);
        expect(numberOf(text, point)).toBe(value === 0 ? 0 : value);
        expect(numberOf(groupDigits(text).replaceAll(',', ''), point)).toBe(value === 0 ? 0 : value);
        expect(numberOf(editableText(value, comma), comma)).toBe(value === 0 ? 0 : value);
      }),
    );
  });
});

describe('shiftPoint', () => {
  it.each([
    ['8.25', -2, '0.0825'],
    ['0.0825', 2, '8.25'],
    ['100', -2, '1'],
    ['0.5', 2, '50'],
    ['1', 2, '100'],
    ['0', -2, '0'],
    ['-12.5', -2, '-0.125'],
    ['123456.789', -2, '1234.56789'],
    ['0.00001', 2, '0.001'],
  ])('%s by %i places is %s', (decimal, places, shifted) => {
    expect(shiftPoint(decimal, places)).toBe(shifted);
  });

  it('there and back is the same number', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 0, max: 8 }), (whole, decimals) => {
        const decimal = shiftPoint(String(whole), -decimals);
        expect(Number(shiftPoint(shiftPoint(decimal, -2), 2))).toBe(Number(decimal));
        expect(Number(shiftPoint(decimal, decimals))).toBe(whole);
      }),
    );
  });
});
