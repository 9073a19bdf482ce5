import { describe, expect, it } from 'vitest';
import { takesFocus } from '../../web/lib/page-focus.ts';
import { differingFrom, valuesFrom } from '../../web/lib/use-search-state.ts';
import { parseSearch, stringifySearch } from '../../web/lib/search-text.ts';

const start = { goldPrice: '2400', treatment: '' };

describe('a what-if in the address', () => {
  it('names only what differs from the start, exactly as typed', () => {
    const values = { goldPrice: '2500.50', treatment: '' };
    expect(differingFrom(start, values)).toEqual({ goldPrice: '2500.50' });
    expect(valuesFrom(start, differingFrom(start, values))).toEqual(values);
  });

  it('ignores what the page does not know', () => {
    expect(valuesFrom(start, { other: 'x', treatment: 7 })).toEqual(start);
  });

  it('survives being written and read as an address', () => {
    const search = { goldPrice: '2500.50', note: 'a & b = c?', count: '007' };
    expect(parseSearch(stringifySearch(search))).toEqual(search);
    expect(stringifySearch({})).toBe('');
    expect(stringifySearch({ a: undefined })).toBe('');
  });
});

describe('takesFocus', () => {
  it('is for every page but the first, and once', () => {
    expect(takesFocus('/lots /lots')).toBe(false);
    expect(takesFocus('/lots /lots')).toBe(false);
    expect(takesFocus('/lots/$id /lots/7')).toBe(true);
    expect(takesFocus('/lots/$id /lots/7')).toBe(false);
    expect(takesFocus('/lots/$id /lots/8')).toBe(true);
  });
});
