import { describe, expect, it } from 'vitest';
import { breakEvens } from '../../../api/calc/economics/break-even.ts';
import { decide } from '../../../api/calc/economics/decide.ts';
import type { DecideInput } from '../../../api/calc/economics/options.ts';
import { usualWhatIfs } from '../../../api/calc/economics/what-ifs.ts';
import { drawsOf, inHouse, inventedLot, sale } from './invented-lot.ts';

const certain: DecideInput = {
  ...inventedLot(),
  draws: drawsOf(4, () => ({ Au: 2000, Ag: 400, recovery: { plain: 0.85 } })),
  prices: { Au: { spot: 2000, annualVolatilityFrac: 0 }, Ag: { spot: 25, annualVolatilityFrac: 0 } },
  options: [
    inHouse('Smelt', 'plain', {
      lead: { inKgPerKg: 0.4, returnFrac: 0.75, buyPricePerKg: 3, recoveredValuePerKg: 2 },
      furnaceHoursPerCharge: 1.5,
      labourHoursPerCharge: 2,
    }),
    sale('Sell', { buyerAssayRelativeSd: 0 }),
  ],
};

describe('break-evens', () => {
  // 100 kg: 200 g gold, 40 g silver. Smelt: 170 g and 34 g in the bar, 98 % and 90 % paid, 20 charges. Sell: 65 % and 60 %.
  const goldOzt = (0.98 * 170 - 0.65 * 200) / 31.1034768;
  const silverOzt = (0.9 * 34 - 0.6 * 40) / 31.1034768;
  const smeltCost = 200 + 120 - 60 + 240 + 20 * 12 + 20 * 50 + 30 + 150;
  const sellCost = 40 + (0.1 / 0.92) * 180 + 120;
  const found = Object.fromEntries(
    breakEvens({ input: certain, firstId: 'Smelt', secondId: 'Sell' }).map((result) => [result.id, result]),
  );

  it('are where hand arithmetic puts them', () => {
    expect(found['price/Au']!.crossings[0]).toBeCloseTo((smeltCost - sellCost - 25 * silverOzt) / goldOzt, 4);
    const ahead = 2000 * goldOzt + 25 * silverOzt - smeltCost + sellCost;
    expect(found.wage!.crossings[0]).toBeCloseTo(25 + ahead / 40, 6);
    expect(found['reagents/Smelt']!.crossings[0]).toBeCloseTo(2 + ahead / 100, 6);
    const equalRecovery = 0.85 - ahead / ((2000 * 0.98 * 200) / 31.1034768);
    expect(found['recovery/plain/Au']!.crossings[0]).toBeCloseTo(100 * equalRecovery, 3);
    const sellPays = (2000 * 0.65 * 200 + 25 * 0.6 * 40) / 31.1034768;
    expect(found['payment/Sell']!.crossings[0]).toBeCloseTo(100 * (1 + ahead / sellPays), 4);
  });

  it('say so in words, with the direction', () => {
    expect(found['price/Au']!.sentence).toMatch(
      /^“Sell” overtakes “Smelt” where the gold price falls below [\d,.]+ USD per troy ounce \(now 2,000\)\.$/,
    );
    expect(found.wage!.sentence).toMatch(/^“Sell” overtakes “Smelt” where the wage rises above /);
  });

  it('say when nothing in the range turns the order', () => {
    expect(found['price/Ag']!.crossings).toEqual([]);
    expect(found['price/Ag']!.sentence).toMatch(
      /^The silver price, taken anywhere from 7.5 to 75 .* never changes the order/,
    );
  });

  it('against nothing are where one option stops paying', () => {
    const [price] = breakEvens({ input: certain, firstId: 'Sell' });
    const paidOzt = (0.65 * 200) / 31.1034768;
    const silver = (25 * 0.6 * 40) / 31.1034768;
    expect(price!.crossings).toEqual([]);
    const [dear] = breakEvens({
      input: {
        ...certain,
        options: [sale('Sell', { buyerAssayRelativeSd: 0, fixedCosts: [{ label: 'Assays', amount: 5000 }] })],
      },
      firstId: 'Sell',
    });
    expect(dear!.crossings[0]).toBeCloseTo((5000 + 40 + (0.1 / 0.92) * 180 - silver) / paidOzt, 4);
    expect(dear!.sentence).toMatch(/^“Sell” stops paying where the gold price falls below /);
  });

  it('make the two options equal when put back, under uncertainty too', () => {
    const input = inventedLot({}, 3000);
    const pair = { ...input, options: [input.options[1]!, input.options[2]!] };
    const results = breakEvens({ input, firstId: 'Roast first', secondId: 'Sell' });
    const turning = usualWhatIfs(pair).filter(
      (whatIf) => results.find(({ id }) => id === whatIf.id)!.crossings.length > 0,
    );
    expect(turning.length).toBeGreaterThan(4);
    for (const whatIf of turning.filter(({ id }) => id !== 'lot-mass')) {
      const result = results.find(({ id }) => id === whatIf.id)!;
      // The parameter behind the shown value, by bisection on the monotone `shown`.
      let [low, high] = [whatIf.low, whatIf.high];
      for (let step = 0; step < 60; step++) {
        const middle = (low + high) / 2;
        if (whatIf.shown(middle) < result.crossings[0]!) low = middle;
        else high = middle;
      }
      const [a, b] = decide(whatIf.apply(pair, low)).options;
      expect(Math.abs(a!.netValue.mean - b!.netValue.mean)).toBeLessThan(1);
    }
  });
});
