import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hindsight } from '../../../api/calc/facts/hindsight.ts';

const options = [
  { id: 'roast', name: 'Roast', netValue: { p10: 3000, p90: 4000 } },
  { id: 'sell', name: 'Sell', netValue: { p10: 2500, p90: 3700 } },
  { id: 'raw', name: 'Raw', netValue: { p10: 1800, p90: 2400 } },
];
const judge = (actualNetValue: number, isFinal = true) =>
  hindsight({ chosenId: 'roast', options, actualNetValue, isFinal, currency: 'USD' })!;

describe('a choice in hindsight', () => {
  it('turned out right by what is known where it brought more than any other was forecast to', () => {
    expect(judge(3900)).toMatchObject({ standing: 'within', verdict: 'above-others' });
    expect(judge(3900).sentence).toBe(
      'It brought 3,900 USD, within the range forecast for “Roast” (3,000 USD to 4,000 USD). That is more than any other option was forecast to bring in 9 chances of 10: by what is known the choice turned out right. What another choice would have brought is not known: the same grade and prices would have moved it too.',
    );
  });

  it('cannot be told where the outcome lies within reach of another option', () => {
    expect(judge(3200)).toMatchObject({ standing: 'within', verdict: 'within-reach' });
    expect(judge(3200).sentence).toContain('what “Sell” was forecast to bring, so it cannot be told');
    expect(judge(2900).sentence).toMatch(/^It brought 2,900 USD, below the range/);
  });

  it('says that another was forecast to bring more, and no more than that', () => {
    const poor = judge(1500);
    expect(poor).toMatchObject({ standing: 'below', verdict: 'below-another' });
    expect(poor.sentence).toContain('less than “Sell” and “Raw” were forecast to bring in 9 chances of 10');
    expect(poor.sentence).toContain('is not known');
  });

  it('does not speak as if it were over before it is', () => {
    expect(judge(4100, false).sentence).toMatch(/^So far it has brought 4,100 USD, above the range/);
  });

  it('stands without others, and not without the chosen one', () => {
    const [roast] = options;
    const only = { chosenId: 'roast', options: [roast!], actualNetValue: 1, isFinal: true, currency: 'USD' };
    expect(hindsight(only)).toMatchObject({ verdict: 'nothing-else' });
    expect(hindsight({ ...only, chosenId: 'gone' })).toBeNull();
  });

  it('never praises a choice that an option within its reach might have beaten', () => {
    const amount = fc.double({ min: -5000, max: 9000, noNaN: true });
    fc.assert(
      fc.property(amount, (actual) => {
        const { verdict } = judge(actual);
        const highest = Math.max(...options.slice(1).map(({ netValue }) => netValue.p90));
        const lowest = Math.max(...options.slice(1).map(({ netValue }) => netValue.p10));
        expect(verdict === 'above-others').toBe(actual > highest);
        expect(verdict === 'below-another').toBe(actual < lowest);
      }),
    );
  });
});
