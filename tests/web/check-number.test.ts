import { describe, expect, it } from 'vitest';
import { checkNumber } from '../../web/lib/check-number.ts';

const limits = {
  required: false,
  min: 0,
  max: Number.POSITIVE_INFINITY,
  decimals: null,
  unit: 'g',
  decimalComma: false,
};

describe('checkNumber', () => {
  it.each([
    ['', limits, null],
    ['', { ...limits, required: true }, 'A number is needed here.'],
    ['12.5', limits, null],
    ['-0.1', limits, 'It must be at least 0 g.'],
    ['-0.1', { ...limits, min: Number.NEGATIVE_INFINITY }, null],
    ['100.01', { ...limits, max: 100, unit: '%' }, 'It must be at most 100 %.'],
    ['100.00', { ...limits, max: 100, unit: '%' }, null],
    ['1.005', { ...limits, decimals: 2 }, 'It can have at most 2 decimals.'],
    ['1.500', { ...limits, decimals: 1 }, null],
    ['2.5', { ...limits, decimals: 0, unit: '' }, 'It must be a whole number.'],
  ])('“%s” %#', (typed, within, message) => {
    expect(checkNumber(typed, within)).toBe(message);
  });
});
