import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareDraws, decide } from '../../../api/calc/economics/decide.ts';
import type { DecideInput, Estimate } from '../../../api/calc/economics/options.ts';
import { drawsOf, inHouse, inventedLot, sale } from './invented-lot.ts';

describe('comparing draws', () => {
  it("gives Clemen and Reilly's investor", () => {
    // R. T. Clemen, T. Reilly, *Making Hard Decisions*, ch. 12: payoffs with chances 0.5, 0.3, 0.2. Expected 580, 540, 500;
    // with perfect information 1000; expected value of perfect information 420, equal to the least expected regret.
    const stocks = [1500, 100, -1000];
    const fund = [1000, 200, -100];
    const states = [0, 0, 0, 0, 0, 1, 1, 1, 2, 2];
    const payoffs = [stocks, fund, [500, 500, 500]].map((row) => Float64Array.from(states, (s) => row[s]!));
    const [a, b, c] = compareDraws(payoffs);
    expect(a!.expectedRegret).toBeCloseTo(420, 10);
    expect(b!.expectedRegret).toBeCloseTo(460, 10);
    expect(c!.expectedRegret).toBeCloseTo(500, 10);
    expect([a, b, c].map((option) => option!.chanceBestFrac)).toEqual([0.5, 0, 0.5]);
  });

  it('shares a tie among equals', () => {
    const equal = () => Float64Array.of(1, 2, 3);
    expect(compareDraws([equal(), equal()]).map(({ chanceBestFrac }) => chanceBestFrac)).toEqual([0.5, 0.5]);
  });
});

describe('hand arithmetic', () => {
  const certain = drawsOf(3, () => ({ Au: 100, Ag: 400, recovery: { plain: 0.8 } }));
  const prices = { Au: { spot: 2000, annualVolatilityFrac: 0 }, Ag: { spot: 25, annualVolatilityFrac: 0 } };
  const base: DecideInput = { ...inventedLot(), draws: certain, prices, lotDryMassKg: 52, options: [] };

  it('agrees for a treatment in-house without uncertainty', () => {
    const option = inHouse('Smelt', 'plain', {
      lead: { inKgPerKg: 0.4, returnFrac: 0.75, buyPricePerKg: 3, recoveredValuePerKg: 2 },
      furnaceHoursPerCharge: 1.5,
      labourHoursPerCharge: 2,
    });
    const [result] = decide({ ...base, options: [option] }).options;
    // 52 kg at 5 kg a charge: 11 charges. Gold 52 × 0.1 g × 0.8 = 4.16 g, 98 % paid; silver 52 × 0.4 × 0.8 = 16.64 g, 90 % paid.
    const goldOzt = (0.98 * 4.16) / 31.1034768;
    const silverOzt = (0.9 * 16.64) / 31.1034768;
    const payment = 2000 * goldOzt + 25 * silverOzt;
    const costs = 52 * 2 + 20.8 * 3 + 11 * 12 + 11 * 1.5 * 8 + 11 * 2 * 25 + 52 * 0.3 + 150;
    const leadBack = 20.8 * 0.75 * 2;
    expect(result!.netValue.mean).toBeCloseTo(payment - costs + leadBack, 9);
    expect(result!.netValue.sd).toBeCloseTo(0, 9);
    expect(result!.goldPayableOzt.p50).toBeCloseTo(goldOzt, 12);
    expect(result!.silverPayableOzt.p50).toBeCloseTo(silverOzt, 12);
    expect(result!.cashUpFront).toBeCloseTo(costs, 9);
    expect(result!.labourHours).toBeCloseTo(22, 12);
    expect(result!.perLabourHour).toBeCloseTo((payment - costs + leadBack) / 22, 9);
    expect(result!.perDryTonne).toBeCloseTo((payment - costs + leadBack) / 0.052, 7);
    expect(result!.perPayableGoldOzt).toBeCloseTo((payment - costs + leadBack) / goldOzt, 7);
  });

  it('agrees for a sale without uncertainty', () => {
    const [result] = decide({ ...base, options: [sale('Sell', { buyerAssayRelativeSd: 0 })] }).options;
    // Gold 5.2 g, 65 % paid; silver 20.8 g, 60 % paid; 400 per dry tonne; 52/0.92 kg wet at 180 per tonne; assays 120.
    const payment = (2000 * 0.65 * 5.2 + 25 * 0.6 * 20.8) / 31.1034768;
    const net = payment - 0.052 * 400 - (0.052 / 0.92) * 180 - 120;
    expect(result!.netValue.mean).toBeCloseTo(net, 9);
    expect(result!.perLabourHour).toBeNull();
  });

  it('gives the concentrate to the terms with its wet mass and other assays', () => {
    let seen: Parameters<Estimate>[0] | undefined;
    const { estimate } = sale('x');
    const spy: Estimate = (parcel) => {
      seen = structuredClone(parcel);
      return estimate(parcel);
    };
    const withLead = { ...prices, others: { Pb: 2100 } };
    decide({
      ...base,
      prices: withLead,
      options: [sale('Sell', { estimate: spy, buyerAssayRelativeSd: 0 })],
    });
    // 52 kg dry at 8 % moisture on the wet basis: 56.52 kg wet.
    expect(seen!.wetMassKg).toBeCloseTo(52 / 0.92, 9);
    expect(seen).toMatchObject({
      dryMassKg: 52,
      assays: { Au: 100, Ag: 400, As: 0.004 },
      prices: { Pb: 2100 },
    });
  });

  it('gives the bar to the terms with its mass and fineness', () => {
    let seen: Parameters<Estimate>[0] | undefined;
    const { estimate } = inHouse('x', 'plain');
    const spy: Estimate = (parcel) => {
      seen = structuredClone(parcel);
      return estimate(parcel);
    };
    decide({ ...base, options: [inHouse('Smelt', 'plain', { estimate: spy })] });
    expect(seen!.dryMassKg).toBeCloseTo((4.16 + 16.64) / 0.9 / 1000, 12);
    expect(seen!.assays.Au! + seen!.assays.Ag!).toBeCloseTo(0.9e6, 6);
    expect(seen!.assays.Au).toBeCloseTo(0.2 * 0.9e6, 6);
    expect(seen!.prices).toEqual({ Au: 2000, Ag: 25 });
  });
});

describe('properties', () => {
  it('takes the assay of the buyer as right on average, however rough', () => {
    const draws = drawsOf(20_000, () => ({ Au: 100, Ag: 400, recovery: {} }));
    const [rough] = decide(
      inventedLot({ draws, options: [sale('Sell', { buyerAssayRelativeSd: 0.3 })] }),
    ).options;
    const exact = (0.65 * 10) / 31.1034768;
    expect(Math.abs(rough!.goldPayableOzt.mean / exact - 1)).toBeLessThan((4 * 0.31) / Math.sqrt(20_000));
    expect(rough!.goldPayableOzt.sd / exact).toBeCloseTo(Math.sqrt(Math.exp(0.09) - 1), 1.7);
  });

  it('breaks the expected net value down without a remainder', () => {
    for (const option of decide(inventedLot()).options) {
      const sum = option.expectedBreakdown.reduce((total, { amount }) => total + amount, 0);
      expect(sum).toBeCloseTo(option.netValue.mean, 7);
    }
  });

  it('has chances of being best that sum to one, and no negative regret', () => {
    fc.assert(
      fc.property(fc.integer(), fc.double({ min: 0.2, max: 3, noNaN: true }), (seed, scale) => {
        const input = inventedLot({ seed, lotDryMassKg: 100 * scale }, 300);
        const { options } = decide(input);
        expect(options.reduce((sum, { chanceBestFrac }) => sum + chanceBestFrac, 0)).toBeCloseTo(1, 12);
        for (const { expectedRegret } of options) expect(expectedRegret).toBeGreaterThanOrEqual(0);
        const means = options.map(({ netValue }) => netValue.mean);
        expect(means).toEqual(means.toSorted((a, b) => b - a));
      }),
      { numRuns: 30 },
    );
  });

  it('scales with the currency', () => {
    const input = inventedLot({}, 500);
    const [plain] = decide({ ...input, options: [inHouse('Smelt', 'plain')] }).options;
    const base = inHouse('Smelt', 'plain');
    const scaled = {
      ...base,
      reagentCostPerKg: 20,
      lead: { ...base.lead, buyPricePerKg: 30, recoveredValuePerKg: 20 },
      crucibleCostPerCharge: 120,
      fuelCostPerFurnaceHour: 80,
      wagePerHour: 250,
      wasteCostPerKg: 3,
      fixedCosts: [{ label: 'Assays and shipping', amount: 1500 }],
    };
    const prices = { Au: { ...input.prices.Au, spot: 20_000 }, Ag: { ...input.prices.Ag, spot: 250 } };
    const [tenfold] = decide({ ...input, prices, options: [scaled] }).options;
    expect(tenfold!.netValue.mean / plain!.netValue.mean).toBeCloseTo(10, 9);
    expect(tenfold!.netValue.p10 / plain!.netValue.p10).toBeCloseTo(10, 9);
  });

  it('leaves the others as they were when a dominated option is added', () => {
    const input = inventedLot({}, 1000);
    const before = decide(input);
    const dear = sale('Sell far away', { fixedCosts: [{ label: 'Freight', amount: 1e6 }], horizonDays: 137 });
    const after = decide({ ...input, options: [dear, ...input.options] });
    expect(after.options.slice(0, 3)).toEqual(before.options);
    expect(after.options[3]!.chanceBestFrac).toBe(0);
    expect(after.sentence).toBe(before.sentence);
  });

  it('gives two buyers of one bar the same hours and prices', () => {
    const options = [inHouse('A', 'plain'), inHouse('B', 'plain')];
    const [a, b] = decide(inventedLot({ options }, 500)).options;
    expect(a!.netValue).toEqual(b!.netValue);
    expect(a!.chanceBestFrac).toBe(0.5);
  });
});

describe('what it says', () => {
  it('names the one ahead, by how much, and how surely', () => {
    const { options, sentence } = decide(inventedLot());
    expect(options[0]!.chanceBestFrac).toBeGreaterThan(0.65);
    expect(sentence).toMatch(
      /^“Roast first” is ahead by about [\d,]+ USD for this lot; \d+ chances in 10+ that it is the best\.$/,
    );
  });

  it('says when it is too close to call', () => {
    const options = [
      inHouse('A', 'plain'),
      inHouse('B', 'plain', { reagentCostPerKg: { low: 1, mode: 2, high: 3 } }),
    ];
    const close = options.map((option) => ({ ...option, treatmentId: 'plain' }));
    expect(decide(inventedLot({ options: close })).sentence).toMatch(/^Too close to call: /);
  });

  it('says when every option loses money', () => {
    const options = [inHouse('A', 'plain'), sale('B')];
    const prices = { Au: { spot: 10, annualVolatilityFrac: 0 }, Ag: { spot: 0.1, annualVolatilityFrac: 0 } };
    const { sentence } = decide(inventedLot({ options, prices }));
    expect(sentence).toMatch(
      /^Every option loses money on this lot, the least with “B”, about [\d,]+ USD: leaving it is worth more\.$/,
    );
  });

  it('says when there is one option, or none', () => {
    expect(decide(inventedLot({ options: [sale('Sell')] })).sentence).toMatch(
      /^“Sell” is the only option entered/,
    );
    expect(decide(inventedLot({ options: [] })).sentence).toBe('There is no option to compare yet.');
  });

  it('leaves out what it cannot work out, and says why', () => {
    const options = [
      inHouse('A', 'nobody-knows'),
      inHouse('B', 'plain', { labourHoursPerCharge: { low: 3, mode: 2, high: 4 } }),
      inHouse('C', 'plain', { doreFinenessFrac: 0 }),
      sale('D', { moistureFrac: Number.NaN }),
      sale('E'),
    ];
    const { options: results, reservations } = decide(inventedLot({ options }, 200));
    expect(results.map(({ id }) => id)).toEqual(['E']);
    const blockers = reservations.filter(({ level }) => level === 'blocker');
    expect(blockers.map(({ path }) => path)).toEqual([
      '/options/0/treatmentId',
      '/options/1/labourHoursPerCharge',
      '/options/2/doreFinenessFrac',
      '/options/3/moistureFrac',
    ]);
  });

  it('leaves out an option whose terms lack an assay', () => {
    const needy = sale('Sell', {
      otherAssays: {},
      estimate: (parcel) => ({
        ...sale('x').estimate(parcel),
        netValue: 1 * (parcel.assays.As ?? Number.NaN),
      }),
    });
    const { options, reservations } = decide(inventedLot({ options: [needy, inHouse('A', 'plain')] }, 200));
    expect(options.map(({ id }) => id)).toEqual(['A']);
    expect(reservations).toContainEqual(
      expect.objectContaining({ code: 'terms-need-more', path: '/options/0' }),
    );
  });

  it('says when the buyer may refuse', () => {
    const wary = sale('Sell', {
      estimate: (parcel) => ({ ...sale('x').estimate(parcel), refused: parcel.assays.Au! > 2000 }),
    });
    const { options, reservations } = decide(inventedLot({ options: [wary] }));
    expect(options[0]!.chanceRefusedFrac).toBeCloseTo(0.5, 1);
    expect(reservations.map(({ code }) => code)).toContain('may-be-refused');
  });

  it('says that another pays sooner, and that the best may lose', () => {
    const options = [
      inHouse('Smelt', 'plain'),
      sale('Sell', { fixedCosts: [{ label: 'Freight', amount: 8000 }] }),
    ];
    const codes = (parts: Partial<DecideInput>) =>
      decide(inventedLot(parts)).reservations.map(({ code }) => code);
    expect(codes({ options: [options[1]!] })).toContain('may-lose');
    expect(
      codes({ options: [inHouse('Smelt', 'plain'), sale('Sell', { freightCostPerWetTonne: 0 })] }),
    ).toContain('another-pays-sooner');
  });
});
