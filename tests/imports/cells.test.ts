import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dateCell, decimalCell, nameCell, yesNoCell, type FileSettings } from '../../api/imports/cells.ts';

const settings = (
  importDateOrder: FileSettings['importDateOrder'] = 'iso',
  decimalComma = false,
): FileSettings => ({ importDateOrder, decimalComma });
const must = (words: string) => ({ must: expect.stringContaining(words) });

describe('a date', () => {
  it.each<[string, FileSettings['importDateOrder'], unknown]>([
    ['2026-05-04', 'iso', { value: '2026-05-04' }],
    ['2026-05-04', 'day-month-year', { value: '2026-05-04' }],
    ['04.05.2026', 'day-month-year', { value: '2026-05-04' }],
    ['4/5/2026', 'day-month-year', { value: '2026-05-04' }],
    ['4/5/2026', 'month-day-year', { value: '2026-04-05' }],
    ['4-5-2026', 'month-day-year', { value: '2026-04-05' }],
    ['04.05.2026', 'iso', must('as YYYY-MM-DD, the order that the settings give')],
    ['2026-02-29', 'iso', must('that the calendar has')],
    ['2024-02-29', 'iso', { value: '2024-02-29' }],
    ['31.04.2026', 'day-month-year', must('that the calendar has')],
    ['5/31/2026', 'day-month-year', must('read dates in files as day-month-year')],
    ['4/5/26', 'day-month-year', must('four digits')],
    ['4.5/2026', 'day-month-year', must('31.05.2026')],
    ['2026/05/04', 'iso', must('YYYY-MM-DD')],
    ['46146', 'iso', must('YYYY-MM-DD')],
    ['2026-05-04 00:00:00', 'iso', must('YYYY-MM-DD')],
  ])('%s in order %s', (text, order, read) => {
    expect(dateCell(text, settings(order))).toEqual(read);
  });
});

describe('a number', () => {
  it.each<[string, boolean, unknown]>([
    ['1240.50', false, { value: '1240.50' }],
    ['1240,50', true, { value: '1240.50' }],
    ['1240', true, { value: '1240' }],
    ['−3.5', false, { value: '-3.5' }],
    ['1,5', false, must('must not have a comma: the settings say that files have a decimal point')],
    ['1.5', true, must('must not have a point: the settings say that files have a decimal comma')],
    ['1,240', false, must('must not have a comma')],
    ['1,240.5', false, must('without grouping')],
    ['1.240,5', true, must('without grouping')],
    ['1.240.500', true, must('without grouping')],
    ['1 240', false, must('without grouping')],
    ['1\u00a0240,5', true, must('without grouping')],
    ['1\u202f240', false, must('without grouping')],
    ["1'240.5", false, must('without grouping')],
    ['1.5E+05', false, must('power of ten')],
    ['12.5 g', false, must('the number alone')],
    ['7.2%', false, must('the number alone')],
    ['0.300000000000001', false, must('at most 8 decimals, but has 15')],
    ['.5', false, must('a number such as 1240.5')],
    ['about 5', false, must('a number such as 1240.5')],
    ['=1+1', false, must('a number such as 1240.5')],
    ['NaN', false, must('a number such as 1240.5')],
    ['Infinity', false, must('a number such as 1240.5')],
    ['0x10', false, must('alone')],
    ['--5', false, must('a number such as 1240.5')],
  ])('%s with decimal comma %s', (text, decimalComma, read) => {
    expect(decimalCell(text, settings('iso', decimalComma))).toEqual(read);
  });

  it('keeps its digits, and is read in one way only', () => {
    const digits = fc.tuple(fc.integer({ min: 0, max: 999_999_999 }), fc.stringMatching(/^\d{1,8}$/));
    fc.assert(
      fc.property(digits, fc.boolean(), ([whole, decimals], decimalComma) => {
        const [sign, other] = decimalComma ? [',', '.'] : ['.', ','];
        const at = settings('iso', decimalComma);
        expect(decimalCell(`${whole}${sign}${decimals}`, at)).toEqual({ value: `${whole}.${decimals}` });
        expect(decimalCell(`${whole}${other}${decimals}`, at)).toHaveProperty('must');
      }),
    );
  });
});

describe('other cells', () => {
  it('say yes or no', () => {
    for (const text of ['yes', 'Y', 'TRUE', '1']) expect(yesNoCell(text)).toEqual({ value: true });
    for (const text of ['No', 'n', 'false', '0']) expect(yesNoCell(text)).toEqual({ value: false });
    expect(yesNoCell('x')).toEqual(must('yes or no'));
  });

  it('name the same thing however their blanks and accents are typed', () => {
    expect(nameCell('\u00a0Bench\u00a0scale ')).toBe('Bench scale');
    expect(nameCell('Re\u0301gule')).toBe('R\u00e9gule');
  });
});
