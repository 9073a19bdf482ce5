import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wrapText } from '../../../reports/pdf/wrap.ts';

/** Every sign one point wide. */
const measure = (text: string) => Array.from(text).length;

describe('wrapText', () => {
  it('breaks at spaces and at line feeds', () => {
    expect(wrapText('one two three\nfour', 7, measure)).toEqual(['one two', 'three', 'four']);
  });

  it('breaks a word only where it alone is too wide, after a hyphen where it has one', () => {
    expect(wrapText('a half-hearted-word', 8, measure)).toEqual(['a', 'half-', 'hearted-', 'word']);
    expect(wrapText('abcdefghij', 4, measure)).toEqual(['abcd', 'efgh', 'ij']);
  });

  it('keeps an empty line between two line feeds', () => {
    expect(wrapText('a\n\nb', 5, measure)).toEqual(['a', '', 'b']);
  });

  it('loses no sign, and no line is too wide unless it is a single sign', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), fc.integer({ min: 1, max: 30 }), (text, width) => {
        const lines = wrapText(text, width, measure);
        expect(lines.join('').replaceAll(' ', '')).toBe(text.replaceAll(/[ \n]/g, ''));
        for (const line of lines) expect(measure(line) <= width || measure(line) === 1).toBe(true);
      }),
    );
  });
});
