import { describe, expect, it } from 'vitest';
import { decideLot } from '../../../api/calc/facts/decide-lot.ts';
import { inHouseOption } from '../../../api/calc/facts/in-house-option.ts';
import { lotOptions } from '../../../api/calc/facts/lot-options.ts';
import { otherAssays, refusals, saleOption } from '../../../api/calc/facts/sale-option.ts';
import { latestPricePer, termsEstimate } from '../../../api/calc/facts/terms-estimate.ts';
import { annualVolatilityFrac } from '../../../api/calc/facts/volatility.ts';
import { smelterTerms } from '../../../api/demo/invented-terms.ts';
import { assumptions } from '../../../api/schemas/decision.ts';
import { inventedFacts } from './invented-lot.ts';

const plain = assumptions.parse({ drawCount: 500 });
const nothing = () => ({
  goldPayableOzt: 0,
  silverPayableOzt: 0,
  paymentValue: 0,
  deductionsValue: 0,
  netValue: 0,
  refused: false,
});

describe('a treatment as an option', () => {
  const facts = inventedFacts();
  const [, roast] = facts.treatments;
  const refiner = facts.terms.find((one) => one.id === 'refiner');
  if (roast === undefined || refiner === undefined) throw new Error('the invented facts have changed');

  it('costs what hand arithmetic says, per kg, charge and hour', () => {
    const option = inHouseOption(roast, refiner, facts, plain, nothing);
    if ('faults' in option) throw new Error(option.faults.join());
    // Soda 0.6 kg × 1.40; lead 0.3 kg × 3 and litharge 0.2 kg × 5 for 0.3 + 0.2 × 207.2/223.199 kg of lead.
    expect(option.reagentCostPerKg).toBeCloseTo(0.84, 10);
    expect(option.lead.inKgPerKg).toBeCloseTo(0.3 + (0.2 * 207.2) / 223.199, 10);
    expect(option.lead.buyPricePerKg).toBeCloseTo(1.9 / (0.3 + (0.2 * 207.2) / 223.199), 10);
    expect(option.lead.recoveredValuePerKg).toBe(3);
    expect(option.crucibleCostPerCharge).toBe(90 / 8);
    expect(option.fuelCostPerFurnaceHour).toBeCloseTo((9 * 2) / 1.5, 10);
    expect(option.wagePerHour).toBe(25);
    expect(option.daysUntilCash).toBe(10 + 10);
  });

  it('counts the cupels that take up the lead of the button', () => {
    const cupel = {
      id: 'cupel',
      name: 'cupel',
      kind: 'cupel' as const,
      unit: 'each' as const,
      prices: [{ effectiveOn: '2026-01-01', price: '3', currency: 'USD' }],
      cupelLeadCapacityG: 600,
    };
    const withCupels = { ...facts, supplies: [...facts.supplies, cupel] };
    const option = inHouseOption({ ...roast, cupelSupplyId: 'cupel' }, refiner, withCupels, plain, nothing);
    if ('faults' in option) throw new Error(option.faults.join());
    // 20 kg a charge × 0.48565… kg of lead × 0.9 back, 0.6 kg a cupel at 3.00, beside the crucible's 11.25.
    const leadKg = 20 * (0.3 + (0.2 * 207.2) / 223.199) * 0.9;
    expect(option.crucibleCostPerCharge).toBeCloseTo(90 / 8 + (leadKg / 0.6) * 3, 10);
    const silent = { ...withCupels, supplies: [...facts.supplies, { ...cupel, cupelLeadCapacityG: null }] };
    expect(inHouseOption({ ...roast, cupelSupplyId: 'cupel' }, refiner, silent, plain, nothing)).toEqual({
      faults: ['cupel does not say how much lead it takes up'],
    });
  });

  it('follows the what-if', () => {
    const changed = {
      ...plain,
      wagePerHour: 40,
      leadPricePerKg: 6,
      fuelPriceFactor: 2,
      reagentPriceFactor: 0.5,
    };
    const option = inHouseOption(roast, refiner, facts, changed, nothing);
    expect(option).toMatchObject({
      reagentCostPerKg: 0.42,
      wagePerHour: 40,
      fuelCostPerFurnaceHour: 24,
      lead: { recoveredValuePerKg: 6 },
    });
  });

  it('is left out with the reason where something has no price, never costed as nothing', () => {
    const before = inHouseOption(roast, refiner, { ...facts, on: '2025-12-31' }, plain, nothing);
    expect('faults' in before && before.faults.join()).toMatch(/soda has no price on or before 2025-12-31/);
    const foreign = facts.supplies.map((supply) => ({
      ...supply,
      prices: supply.prices.map((price) => ({ ...price, currency: 'CAD' })),
    }));
    const abroad = inHouseOption(roast, refiner, { ...facts, supplies: foreign }, plain, nothing);
    expect('faults' in abroad && abroad.faults.join()).toMatch(/priced in CAD/);
  });
});

describe('a sale as an option', () => {
  it('takes elements from assays first, and from the minerals where none was assayed', () => {
    const { lot } = inventedFacts();
    const withMinerals = { ...lot, minerals: [{ mineral: 'galena' as const, massFrac: '0.5' }] };
    const known = otherAssays(withMinerals);
    expect(known['As']).toBeCloseTo(0.004, 12);
    // Pb in PbS: 207.2 / 239.26 by the IUPAC abridged weights of 2021.
    expect(known['Pb']).toBeCloseTo((0.5 * 207.2) / 239.26, 10);
    expect(known['Au']).toBeUndefined();
  });

  it('is refused above the penalty limit and outside the masses that the buyer takes', () => {
    const facts = inventedFacts();
    const strict = (body: Partial<typeof smelterTerms>) => ({
      id: 'x',
      name: 'x',
      counterpartyName: 'Invented buyer',
      body: { ...smelterTerms, ...body },
    });
    const [penalty] = smelterTerms.penalties;
    if (penalty === undefined) throw new Error('the invented terms have changed');
    // The lot holds 0.4 % As.
    expect(refusals(strict({ penalties: [{ ...penalty, refusedAbove: '0.41' }] }), facts.lot, 500)).toEqual(
      [],
    );
    expect(
      refusals(strict({ penalties: [{ ...penalty, refusedAbove: '0.39' }] }), facts.lot, 500),
    ).toHaveLength(1);
    const acceptance = { basis: 'wet', unit: 'tonne', minimum: '0.5', maximum: '2' } as const;
    // 460 kg dry at 8 % moisture is 500 kg wet.
    expect(refusals(strict({ acceptance }), facts.lot, 460.001)).toEqual([]);
    expect(refusals(strict({ acceptance }), facts.lot, 459)).toHaveLength(1);
    expect(refusals(strict({ acceptance }), facts.lot, 1841)).toHaveLength(1);
  });

  it('says which elements of the terms nothing is known of', () => {
    const facts = inventedFacts();
    const terms = facts.terms.find((one) => one.id === 'smelter');
    if (terms === undefined) throw new Error('the invented facts have changed');
    const unassayed = { ...facts, lot: { ...facts.lot, labAssays: [] } };
    expect(saleOption(terms, unassayed, plain, nothing).takenAsAbsent).toEqual(['As']);
    expect(saleOption(terms, facts, plain, nothing).takenAsAbsent).toEqual([]);
  });
});

describe('prices of the day', () => {
  it('are converted exactly between what is quoted and what the terms speak of', () => {
    const quotations = [
      { metal: 'Pb', quotedOn: '2026-06-01', price: '2000', currency: 'USD', unit: 't' as const },
      { metal: 'Pb', quotedOn: '2026-06-04', price: '2204.62262', currency: 'USD', unit: 't' as const },
    ];
    // NIST SP 811, App. B: 1 lb = 0.45359237 kg, so 2,204.62262 USD/t is 1 USD/lb.
    expect(latestPricePer(quotations, { metal: 'Pb', currency: 'USD', grams: 453.59237 })).toBeCloseTo(1, 8);
    expect(latestPricePer(quotations, { metal: 'Pb', currency: 'EUR', grams: 1 })).toBeNull();
  });

  it('give the same estimate whether the terms speak of ounces or grams', () => {
    const facts = inventedFacts();
    const terms = facts.terms.find((one) => one.id === 'refiner');
    if (terms === undefined) throw new Error('the invented facts have changed');
    const inGrams = {
      ...terms,
      body: {
        ...terms.body,
        metals: terms.body.metals.map((metal) => ({
          ...metal,
          price: { ...metal.price, unit: 'g' as const },
        })),
      },
    };
    const parcel = {
      wetMassKg: 1,
      dryMassKg: 1,
      assays: { Au: 300_000, Ag: 600_000 },
      prices: { Au: 2400, Ag: 30 },
    };
    const [ounces, grams] = [terms, inGrams].map((one) => termsEstimate(one, facts));
    if (ounces === undefined || grams === undefined || 'faults' in ounces || 'faults' in grams)
      throw new Error('these terms can be estimated');
    // 1 kg of doré, 300 fine: 300/31.1034768 × 0.9925 × 2,400 = 22,974.9…
    expect(ounces(parcel).paymentValue).toBeCloseTo(
      (300 / 31.1034768) * 0.9925 * 2400 + (600 / 31.1034768) * 0.97 * 30,
      6,
    );
    expect(grams(parcel).paymentValue).toBeCloseTo(ounces(parcel).paymentValue, 6);
  });

  it('show how much a price moves: known from a series with a known spread, unknown from a few days', () => {
    const day = (i: number) =>
      `2026-${String(1 + Math.floor(i / 28)).padStart(2, '0')}-${String(1 + (i % 28)).padStart(2, '0')}`;
    const series = (count: number) =>
      Array.from({ length: count }, (_, i) => ({
        metal: 'Au',
        quotedOn: day(i),
        price: String(100 * Math.exp(0.01 * (i % 2))),
        currency: 'USD',
        unit: 'ozt' as const,
      }));
    // Changes of +1 % and −1 % in turn: their standard deviation is 0.01 × √(n/(n − 1)), times √252.
    const changes = 40;
    expect(annualVolatilityFrac(series(changes + 1))).toBeCloseTo(
      0.01 * Math.sqrt(changes / (changes - 1)) * Math.sqrt(252),
      10,
    );
    expect(annualVolatilityFrac(series(29))).toBeNull();
  });
});

describe('a decision', () => {
  it('is the same for the same facts, and moves with the gold price', () => {
    const facts = inventedFacts();
    const first = decideLot(facts, plain, 100).decision;
    expect(decideLot(facts, plain, 100).decision).toEqual(first);
    const richer = decideLot(facts, { ...plain, goldPricePerOzt: 4800 }, 100).decision;
    for (const option of first.options)
      expect(richer.options.find((one) => one.id === option.id)?.netValue.mean).toBeGreaterThan(
        option.netValue.mean,
      );
  });

  it('says what keeps it from being made', () => {
    const facts = inventedFacts({ latestQuotations: [] });
    expect(decideLot(facts, plain, 100).findings.map((finding) => finding.code)).toContain('no-quotation');
    const noTerms = decideLot(inventedFacts({ terms: [] }), plain, 100);
    expect(noTerms.findings.map((finding) => finding.code)).toContain('nothing-to-compare');
    expect(noTerms.decision.options).toEqual([]);
  });
});

describe('a price to be chosen from several quotations', () => {
  const chosenBy = (rule: 'lowest' | 'seller-option') => {
    const facts = inventedFacts();
    const terms = facts.terms.map((one) => ({
      ...one,
      body: {
        ...one.body,
        metals: one.body.metals.map((metal) => {
          const { basis } = metal.price;
          if (metal.metal !== 'Au' || basis.kind !== 'quotations') return metal;
          const options = [
            { ...basis, paidFrac: '1' },
            { ...basis, paidFrac: '0.98' },
          ];
          return { ...metal, price: { ...metal.price, basis: { kind: 'choice' as const, rule, options } } };
        }),
      },
    }));
    return lotOptions({ ...facts, terms }, plain, 100).findings.filter(
      ({ code }) => code === 'one-price-for-options',
    );
  };
  it('is drawn once for all of them, and says so for each terms that are compared', () => {
    expect(lotOptions(inventedFacts(), plain, 100).findings.map(({ code }) => code)).not.toContain(
      'one-price-for-options',
    );
    const found = chosenBy('lowest');
    expect(found.length).toBeGreaterThan(0);
    expect(found[0]).toMatchObject({ level: 'note' });
    expect(found[0]?.sentence).toMatch(/prices Au by 2 quotations .* somewhat less than this estimate says/);
    expect(chosenBy('seller-option')[0]?.sentence).toMatch(/worth somewhat more/);
  });
});
