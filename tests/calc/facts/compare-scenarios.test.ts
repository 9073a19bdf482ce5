import { describe, expect, it } from 'vitest';
import { scenariosSentence } from '../../../api/calc/facts/compare-scenarios.ts';

const one = (name: string, option: string, meanNetValue: number) => ({
  name,
  best: { name: option, meanNetValue },
});

describe('scenarios in a sentence', () => {
  it('says that the answer holds', () => {
    expect(scenariosSentence([one('low gold', 'Roast', 9120), one('now', 'Roast', 12_720)], 'USD')).toBe(
      'Roast is the best in both cases, and is expected to bring from about 9,120 USD to 12,700 USD.',
    );
    expect(
      scenariosSentence([one('a', 'Roast', 100), one('b', 'Roast', 100), one('c', 'Roast', 100.2)], 'USD'),
    ).toBe('Roast is the best in all 3 cases, and is expected to bring about 100 USD in each.');
  });

  it('says which case turns it', () => {
    const sentence = scenariosSentence(
      [one('low gold', 'Sell', 9000), one('dear wage', 'Sell', 11_000), one('now', 'Roast', 12_720)],
      'USD',
    );
    expect(sentence).toBe(
      'The answer depends on the case: Sell in “low gold” and “dear wage”; Roast in “now”. The best is expected to bring from about 9,000 USD to 12,700 USD.',
    );
  });

  it('says nothing of a single case', () => {
    expect(scenariosSentence([one('now', 'Roast', 1), { name: 'no price', best: null }], 'USD')).toBe('');
  });
});
