import { describe, expect, it } from 'vitest';
import { breakEvenFinder } from '../../../api/calc/economics/break-even.ts';
import { decideLot, lotQuestion } from '../../../api/calc/facts/decide-lot.ts';
import { lotWhatIfs } from '../../../api/calc/facts/lot-what-ifs.ts';
import type { DecisionFacts } from '../../../api/calc/facts/records.ts';
import { assumptions } from '../../../api/schemas/decision.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { inventedFacts } from './invented-lot.ts';

const plain = assumptions.parse({ drawCount: 2000 });
const massKg = 400;
const pair = ['roast/refiner', 'sale/smelter'] as const;

/** The invented lot with the cost of waste set so that roasting is ahead of the smelter by so much. */
function factsWithLead(ahead: number): DecisionFacts {
  const from = inventedFacts();
  const excess = lead(from) - ahead;
  return {
    ...from,
    treatments: from.treatments.map((one) => ({
      ...one,
      wasteCostPerKg: String(Number(one.wasteCostPerKg) + excess / massKg),
    })),
  };
}

function lead(on: DecisionFacts): number {
  const { options } = decideLot(on, plain, massKg).decision;
  const mean = (id: string) => options.find((option) => option.id === id)?.netValue.mean ?? Number.NaN;
  return mean(pair[0]) - mean(pair[1]);
}

const facts = factsWithLead(40);

function crossingsBetween(firstId: string, secondId: string | null, on: DecisionFacts = facts) {
  const { input } = lotQuestion(on, plain, massKg);
  const finder = breakEvenFinder({ input, firstId, secondId });
  if (finder === null) throw new Error('no such option');
  return new Map(lotWhatIfs(finder.pair, on, plain).map((whatIf) => [whatIf.id, finder.find(whatIf)]));
}

const withBody = (id: string, change: (body: Terms) => Terms): DecisionFacts => ({
  ...facts,
  terms: facts.terms.map((one) => (one.id === id ? { ...one, body: change(one.body) } : one)),
});

const withPrice = (id: string, price: number): DecisionFacts => ({
  ...facts,
  supplies: facts.supplies.map((one) =>
    one.id === id ? { ...one, prices: [{ ...one.prices[0]!, price: String(price) }] } : one,
  ),
});

/** One metal's share paid, written into a contract whose forms are simple. */
const withShare = (metal: string, percent: number) => (body: Terms) => ({
  ...body,
  metals: body.metals.map((one) =>
    one.metal === metal && one.form.kind !== 'steps' && one.form.kind !== 'bands'
      ? { ...one, form: { ...one.form, paidFrac: String(percent / 100) } }
      : one,
  ),
});

describe('what-ifs from the records', () => {
  const between = crossingsBetween(...pair);

  it('name what an owner expects, each once', () => {
    const ids = [...between.keys()];
    for (const id of [
      'price/Au',
      'grade/Ag',
      'recovery/roast/Au',
      'payable/smelter/Au',
      'payable/refiner/Ag',
      'charge/smelter/0',
      'charge/refiner/0',
      'refining/smelter/Au',
      'reagent-prices',
      'supply/propane',
      'supply/litharge',
      'lead-price',
      'lead-loss/roast',
      'wage',
      'lot-mass',
    ])
      expect(ids).toContain(id);
    expect(ids).not.toContain('lead-price/roast/refiner');
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).not.toContain('payable/trader/Au');
  });

  it('start from what the records say', () => {
    expect(between.get('payable/smelter/Au')).toMatchObject({ today: 86, unit: '%' });
    expect(between.get('charge/smelter/0')).toMatchObject({
      today: 265,
      unit: 'USD per tonne',
      label: 'the treatment charge of Invented Smelter',
    });
    expect(between.get('supply/propane')).toMatchObject({ today: 2, unit: 'USD per kg' });
    expect(between.get('lead-price')).toMatchObject({ today: 3 });
    expect(between.get('lead-loss/roast')?.today).toBeCloseTo(100 * (1 - (0.8 + 0.9 + 0.95) / 3), 9);
    expect(between.get('reagent-prices')).toMatchObject({ today: 100 });
  });

  // Each turning point, written into the records by hand, makes the two options equal when all is worked anew.
  const turning: [what: string, id: string, changed: (at: number) => DecisionFacts][] = [
    [
      'the share of gold that the smelter pays for',
      'payable/smelter/Au',
      (at) => withBody('smelter', withShare('Au', at)),
    ],
    [
      'the share of silver that the refiner pays for',
      'payable/refiner/Ag',
      (at) => withBody('refiner', withShare('Ag', at)),
    ],
    [
      'the treatment charge',
      'charge/smelter/0',
      (at) =>
        withBody('smelter', (body) => ({
          ...body,
          charges: body.charges.map((one) =>
            one.kind === 'per-mass' && one.purpose === 'treatment' ? { ...one, rate: String(at) } : one,
          ),
        })),
    ],
    [
      'the refining charge',
      'refining/smelter/Au',
      (at) =>
        withBody('smelter', (body) => ({
          ...body,
          metals: body.metals.map((one) =>
            one.metal === 'Au' && one.refining !== null
              ? { ...one, refining: { ...one.refining, rate: String(at) } }
              : one,
          ),
        })),
    ],
    ['the price of propane', 'supply/propane', (at) => withPrice('propane', at)],
    ['the price of litharge', 'supply/litharge', (at) => withPrice('litharge', at)],
    ['the price of lead', 'lead-price', (at) => withPrice('lead', at)],
    ['the price of the only reagent', 'reagent-prices', (at) => withPrice('soda', (1.4 * at) / 100)],
    ['the wage', 'wage', (at) => withPrice('wage', at)],
    [
      'the lead that is lost',
      'lead-loss/roast',
      (at) => ({
        ...facts,
        treatments: facts.treatments.map((one) => {
          // The three values of the return of 80, 90 and 95 % lose 20, 10 and 5 %: 35/3 % in the mean.
          const factor = at / (35 / 3);
          return one.id === 'roast'
            ? {
                ...one,
                leadReturnLowFrac: 1 - 0.2 * factor,
                leadReturnModeFrac: 1 - 0.1 * factor,
                leadReturnHighFrac: 1 - 0.05 * factor,
              }
            : one;
        }),
      }),
    ],
  ];
  it.each(turning)('%s turns the order where it says', (_what, id, changed) => {
    const [crossing] = between.get(id)?.crossings ?? [];
    if (crossing === undefined) throw new Error(`${id} never turns the order`);
    expect(Math.abs(lead(changed(crossing)))).toBeLessThan(0.05);
    expect(lead(changed(crossing * 1.02)) * lead(changed(crossing / 1.02))).toBeLessThan(0);
  });

  it('are the same whatever the owner has assumed, apart from where they start', () => {
    const dearer = assumptions.parse({ drawCount: 2000, leadPricePerKg: 3.2, fuelPriceFactor: 1.1 });
    const { input } = lotQuestion(facts, dearer, massKg);
    const finder = breakEvenFinder({ input, firstId: pair[0], secondId: pair[1] });
    if (finder === null) throw new Error('no such option');
    const found = new Map(lotWhatIfs(finder.pair, facts, dearer).map((one) => [one.id, one]));
    expect(found.get('lead-price')!.shown(1)).toBeCloseTo(3.2, 12);
    expect(found.get('supply/propane')!.shown(1)).toBeCloseTo(2.2, 12);
    const back = found.get('lead-price')!.apply(finder.pair, 3 / 3.2).options[0]!;
    expect(back.kind === 'in-house' && back.lead.recoveredValuePerKg).toBeCloseTo(3, 12);
    for (const whatIf of found.values()) {
      const kept = whatIf.apply(finder.pair, whatIf.today).options;
      expect(JSON.stringify(kept)).toBe(JSON.stringify(finder.pair.options));
    }
  });

  it('say of one option alone where it stops paying, or begins to', () => {
    expect(crossingsBetween('roast/refiner', null).get('wage')?.sentence).toMatch(
      /never keeps “Roast and smelt” from paying \(now 25\)\.$/,
    );
    const alone = crossingsBetween('roast/refiner', null, withPrice('wage', 250));
    expect(alone.get('price/Au')?.sentence).toMatch(
      /^“Roast and smelt” stops paying where the gold price falls below [\d,.]+ USD per troy ounce \(now 2,400\)\.$/,
    );
    expect(alone.has('charge/smelter/0')).toBe(false);
    const ruinous = crossingsBetween('roast/refiner', null, withPrice('wage', 900));
    expect(ruinous.get('wage')?.sentence).toMatch(
      /^“Roast and smelt” begins to pay where the wage falls below /,
    );
    expect(ruinous.get('lead-loss/roast')?.sentence).toMatch(
      /never makes “Roast and smelt” pay \(now 11\.7\)/,
    );
  });
});
