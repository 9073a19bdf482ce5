import { describe, expect, it } from 'vitest';
import {
  chanceText,
  dateText,
  measuredQuantityText,
  measuredText,
  moneyText,
  percentText,
  quantityText,
  rangeTexts,
} from '../../web/lib/format.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import { shownDecimal, storedDecimal } from '../../web/lib/quantities.ts';

/** Spaces that do not break read like plain ones here. */
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, ' ');
const american = {
  ...plainChoices,
  massUnit: 'lb',
  metalUnit: 'ozt',
  gradeUnit: 'oz/short ton',
  temperatureUnit: '°F',
} as const;

describe('measuredText', () => {
  it.each([
    [{ value: 312.44, u: 7.1 }, '312 ± 14 g/t'],
    [{ value: 0.012345, u: 0.00025 }, '0.01235 ± 0.00050 g/t'],
    [{ value: 12345, u: 617 }, '12,300 ± 1,200 g/t'],
    [{ value: -3.2, u: 1 }, '−3.2 ± 2.0 g/t'],
    [{ value: 5, u: 0 }, '5 g/t'],
    [{ value: Number.NaN, u: 1 }, '–'],
    [null, '–'],
  ])('%o', (measured, text) => {
    expect(plain(measuredText(measured, 'g/t'))).toBe(text);
  });
});

describe('money', () => {
  it('keeps every booked digit', () => {
    expect(plain(moneyText('1234567890123456.05', 'USD'))).toBe('1,234,567,890,123,456.05 USD');
    expect(plain(moneyText('-0.10', 'EUR'))).toBe('−0.10 EUR');
    expect(moneyText(null, 'USD')).toBe('–');
    expect(moneyText('1e3', 'USD')).toBe('–');
  });

  it('rounds the three figures of an estimate alike', () => {
    const texts = rangeTexts({ low: 641.2, median: 1243.7, high: 1902 }, 'USD');
    expect(plain(`${texts.median}; ${texts.low}; ${texts.high}`)).toBe('1,240 USD; 640 USD; 1,900 USD');
  });
});

describe('quantities in the unit of choice', () => {
  // NIST Special Publication 811 (2008), Appendix B: 1 lb = 0.453 592 37 kg; 1 ozt = 31.103 476 8 g; t/°C = (t/°F − 32)/1.8.
  it('shows stored values in the owner’s units', () => {
    expect(plain(quantityText('lotMassKg', '45.359237', american))).toBe('100 lb');
    expect(plain(quantityText('metalMassG', 31.1034768, american, 3))).toBe('1.000 ozt');
    expect(plain(quantityText('tempC', 500, american))).toBe('932 °F');
    expect(plain(quantityText('gradeGpt', 240, american, 2))).toBe('7.00 oz/short ton');
    expect(plain(quantityText('lotMassKg', '1250.40', plainChoices))).toBe('1,250.40 kg');
    expect(plain(quantityText('lotMassKg', '380.70002', plainChoices))).toBe('380.7 kg');
    expect(plain(quantityText('lotMassKg', '0.70002', plainChoices))).toBe('0.7 kg');
    expect(plain(quantityText('lotMassKg', '0.00002', plainChoices))).toBe('0.00002 kg');
  });

  it('converts a temperature’s uncertainty without the offset', () => {
    expect(plain(measuredQuantityText('tempC', { value: 500, u: 5 }, american))).toBe('932 ± 18 °F');
  });

  it('stores what was typed exactly, and shows it again as typed', () => {
    expect(storedDecimal('lotMassKg', '100', american)).toBe('45.359237');
    expect(storedDecimal('lotMassKg', '12.50', plainChoices)).toBe('12.50');
    expect(storedDecimal('tempC', '1000', american)).toBe('537.77777778');
    for (const typed of ['100', '0.3', '1234.567', '1000']) {
      for (const quantity of ['lotMassKg', 'metalMassG', 'gradeGpt'] as const) {
        const again = Number(shownDecimal(quantity, storedDecimal(quantity, typed, american), american));
        expect(Math.abs(again - Number(typed))).toBeLessThan(1e-6);
      }
    }
  });
});

describe('small texts', () => {
  it('writes dates so that day and month cannot be mistaken', () => {
    expect(plain(dateText('2031-05-04'))).toBe('4 May 2031');
    expect(dateText('not a date')).toBe('–');
    expect(dateText(null)).toBe('–');
  });

  it('writes percent from a stored fraction with its own digits', () => {
    expect(plain(percentText('0.0825'))).toBe('8.25 %');
    expect(plain(percentText(0.08254, 1))).toBe('8.3 %');
  });

  it.each([
    [0.9, '9 chances in 10'],
    [0.1, '1 chance in 10'],
    [0.97, '97 chances in 100'],
    [0.01, '1 chance in 100'],
    [1, 'more than 99 chances in 100'],
    [0, 'less than 1 chance in 100'],
    [0.949, '95 chances in 100'],
  ])('chance of %d', (probability, text) => {
    expect(chanceText(probability)).toBe(text);
  });
});
