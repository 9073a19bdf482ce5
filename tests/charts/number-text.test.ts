import { describe, expect, it } from 'vitest';
import {
  fixedText,
  groupDigits,
  placeOfTwoDigits,
  significantText,
  textAtPlace,
} from '../../reports/charts/number-text.ts';

const comma = ',';

describe('groupDigits', () => {
  it.each([
    ['999', '999'],
    ['1000', `1${comma}000`],
    ['1234567.8901', `1${comma}234${comma}567.8901`],
    ['-1234.50', `\u22121${comma}234.50`],
    ['0.000123', '0.000123'],
    ['not a number', 'not a number'],
  ])('%s', (plain, grouped) => {
    expect(groupDigits(plain)).toBe(grouped);
  });
});

describe('number texts', () => {
  it('never shows a negative zero, an exponent or something that is not a number', () => {
    expect(fixedText(-0.004, 2)).toBe('0.00');
    expect(significantText(1e21, 3)).toBe(groupDigits('1000000000000000000000'));
    expect(fixedText(Number.NaN, 2)).toBe('–');
    expect(significantText(Number.NEGATIVE_INFINITY, 2)).toBe('–');
  });

  // JCGM 100:2008, 7.2.6: 10.057 62 Ω with uc = 27 mΩ is rounded to 10.058 Ω; at two digits of u kept, 27 mΩ stays at the mΩ place.
  it('keeps two significant digits of an uncertainty', () => {
    expect(placeOfTwoDigits(0.027)).toBe(-3);
    expect(textAtPlace(10.05762, placeOfTwoDigits(0.027) ?? 0)).toBe('10.058');
    expect(placeOfTwoDigits(0.0996)).toBe(-2);
    expect(placeOfTwoDigits(1234)).toBe(2);
    expect(textAtPlace(12345, 2)).toBe(`12${comma}300`);
    expect(placeOfTwoDigits(0)).toBeNull();
  });
});
