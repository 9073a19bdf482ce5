import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Dec } from '../../../api/calc/money.ts';
import {
  conversionText,
  convert,
  gradeConversion,
  massConversion,
  metalConversion,
} from '../../../api/calc/terms/conversion.ts';
import { STANDARD_FACTORS } from '../../../api/calc/terms/starting-terms.ts';
import type { GradeUnit, MassUnit } from '../../../api/calc/terms/term-units.ts';

const MASSES: MassUnit[] = ['kg', 'g', 'tonne', 'short ton', 'long ton', 'lb', 'ozt'];
const GRADES: GradeUnit[] = ['g/t', 'ppm', 'percent', 'fineness', 'oz/t', 'oz/short ton', 'oz/long ton'];

describe('conversions by the contract’s factors', () => {
  // NIST Handbook 44, Appendix C, and Special Publication 811, Appendix B.
  it.each<[string, MassUnit, MassUnit, number]>([
    ['1', 'ozt', 'g', 31.1034768],
    ['1', 'lb', 'g', 453.59237],
    ['1', 'short ton', 'kg', 907.18474],
    ['1', 'long ton', 'kg', 1016.0469088],
    ['1', 'short ton', 'lb', 2000],
    ['1', 'long ton', 'lb', 2240],
    ['1', 'lb', 'ozt', 14.5833333],
  ])('%s %s is %s %d', (value, from, to, result) => {
    const got = convert(new Dec(value), massConversion(from, to), STANDARD_FACTORS).toNumber();
    expect(Math.abs(got / result - 1)).toBeLessThan(2e-8);
  });

  it.each<[GradeUnit, GradeUnit, number]>([
    // One troy ounce to the short ton is 34.2857 g/t; 1 % is 326.667 oz to the long ton (Beringer, 9th ed. 1904).
    ['oz/short ton', 'g/t', 34.285714],
    ['percent', 'oz/long ton', 326.66667],
    ['percent', 'oz/short ton', 291.66667],
    ['fineness', 'g/t', 1000],
    ['ppm', 'g/t', 1],
    ['oz/t', 'g/t', 31.1034768],
  ])('one %s is so many %s: %d', (from, to, result) => {
    const got = convert(new Dec(1), gradeConversion(from, to), STANDARD_FACTORS).toNumber();
    expect(Math.abs(got / result - 1)).toBeLessThan(2e-7);
  });

  it('gives 782.3 oz of gold in 1,000 short tons of 0.7823 oz to the short ton, whatever the factor', () => {
    const conversion = metalConversion('short ton', 'oz/short ton', 'ozt');
    expect(convert(new Dec('782.3'), conversion, STANDARD_FACTORS).toFixed()).toBe('782.3');
    expect(conversionText(conversion, STANDARD_FACTORS)).toBe('');
  });

  it('comes back to where it started', () => {
    fc.assert(
      fc.property(fc.constantFrom(...MASSES), fc.constantFrom(...MASSES), (from, to) => {
        const there = convert(new Dec(7), massConversion(from, to), STANDARD_FACTORS);
        const back = convert(there, massConversion(to, from), STANDARD_FACTORS);
        expect(back.minus(7).abs().lt('1e-40')).toBe(true);
      }),
    );
    fc.assert(
      fc.property(fc.constantFrom(...GRADES), fc.constantFrom(...GRADES), (from, to) => {
        const there = convert(new Dec(7), gradeConversion(from, to), STANDARD_FACTORS);
        const back = convert(there, gradeConversion(to, from), STANDARD_FACTORS);
        expect(back.minus(7).abs().lt('1e-40')).toBe(true);
      }),
    );
  });

  it('prints itself as the shortest row of × and ÷', () => {
    expect(conversionText(metalConversion('kg', 'g/t', 'ozt'), STANDARD_FACTORS)).toBe(
      ' ÷ 1,000 ÷ 31.1034768',
    );
    expect(conversionText(metalConversion('tonne', 'percent', 'lb'), STANDARD_FACTORS, 1)).toBe(
      ' × 2204.62262',
    );
    expect(conversionText(metalConversion('ozt', 'fineness', 'ozt'), STANDARD_FACTORS)).toBe(' ÷ 1,000');
    expect(conversionText(metalConversion('tonne', 'percent', 'unit'), STANDARD_FACTORS, 1)).toBe(' × 100');
  });
});
