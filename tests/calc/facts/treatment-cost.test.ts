import { describe, expect, it } from 'vitest';
import { inHouseOption } from '../../../api/calc/facts/in-house-option.ts';
import type { SupplyFacts, TreatmentFacts } from '../../../api/calc/facts/records.ts';
import { treatmentCost } from '../../../api/calc/facts/treatment-cost.ts';
import { inventedFacts } from './invented-lot.ts';

const facts = inventedFacts();
const [raw] = facts.treatments;
if (raw === undefined) throw new Error('the invented books have a treatment');
const day = { on: '2026-06-05', currency: 'USD' };
const costOf = (parts: Partial<TreatmentFacts> = {}, supplies: SupplyFacts[] = facts.supplies) =>
  treatmentCost({ ...raw, ...parts }, { supplies, ...day });

/**
 * Standard atomic weights, abridged: Prohaska et al., "Standard atomic weights of the elements 2021 (IUPAC
 * Technical Report)", Pure Appl. Chem. 94 (2022), 573–600, table 1: lead 207.2, oxygen 15.999.
 */
const leadInLitharge = 207.2 / (207.2 + 15.999);

describe('treatmentCost', () => {
  it('adds up per kg of concentrate what a charge of 20 kg takes, as on paper', () => {
    const { lines, totalPerKg, faults } = costOf();
    const byLabel = Object.fromEntries(lines.map(({ label, costPerKg }) => [label, costPerKg]));
    expect(faults).toEqual([]);
    expect(byLabel['soda']).toBeCloseTo(0.6 * 1.4, 12);
    expect(byLabel['lead']).toBeCloseTo(0.3 * 3, 12);
    expect(byLabel['litharge']).toBeCloseTo(0.2 * 5, 12);
    expect(byLabel['propane']).toBeCloseTo((6 * 2) / 20, 12);
    expect(byLabel['crucible']).toBeCloseTo(90 / 8 / 20, 12);
    expect(byLabel['wage']).toBeCloseTo((2 * 25) / 20, 12);
    expect(byLabel['Waste disposal']).toBeCloseTo(0.1, 12);
    const leadValue = (0.3 + 0.2 * leadInLitharge) * 3;
    expect(byLabel['Lead back']).toBeCloseTo(-0.9 * leadValue, 4);
    const outlay = 0.84 + 0.9 + 1 + 0.6 + 0.5625 + 2.5 + 0.1;
    expect(totalPerKg?.likely).toBeCloseTo(outlay - 0.9 * leadValue, 4);
    expect(totalPerKg?.low).toBeCloseTo(outlay - 0.95 * leadValue, 4);
    expect(totalPerKg?.high).toBeCloseTo(outlay - 0.8 * leadValue, 4);
  });

  it('is what the decision reckons with for whole charges', () => {
    const refiner = facts.terms.find((one) => one.body.material === 'dore');
    if (refiner === undefined) throw new Error('the invented books have a refiner');
    const unchanged = {
      goldPricePerOzt: null,
      silverPricePerOzt: null,
      annualVolatilityGoldFrac: null,
      annualVolatilitySilverFrac: null,
      wagePerHour: null,
      leadPricePerKg: null,
      fuelPriceFactor: 1,
      reagentPriceFactor: 1,
      goldRecoveryShiftFrac: 0,
      saleFreightAndAssays: 0,
      drawCount: 100,
      seed: 1,
    };
    const noPayment = () => {
      throw new Error('costs are reckoned without a payment');
    };
    for (const treatment of facts.treatments) {
      const option = inHouseOption(treatment, refiner, facts, unchanged, noPayment);
      if (!('lead' in option)) throw new Error(option.faults.join());
      const { lead, chargeSizeKg } = option;
      const plain = (amount: unknown): number => {
        if (typeof amount !== 'number') throw new Error('the records give this as a plain number');
        return amount;
      };
      const perCharge =
        option.crucibleCostPerCharge +
        plain(option.furnaceHoursPerCharge) * option.fuelCostPerFurnaceHour +
        plain(option.labourHoursPerCharge) * option.wagePerHour;
      const leadInKg = plain(lead.inKgPerKg);
      const expected =
        plain(option.reagentCostPerKg) +
        leadInKg * lead.buyPricePerKg -
        leadInKg * treatment.leadReturnModeFrac * lead.recoveredValuePerKg +
        perCharge / chargeSizeKg +
        option.wasteCostPerKg;
      expect(treatmentCost(treatment, { supplies: facts.supplies, ...day }).totalPerKg?.likely).toBeCloseTo(
        expected,
        10,
      );
    }
  });

  it('takes the price in force on the day, whatever the order of the list', () => {
    const supplies = facts.supplies.map((supply) =>
      supply.id === 'soda'
        ? {
            ...supply,
            prices: [
              { effectiveOn: '2026-03-01', price: '2', currency: 'USD' },
              { effectiveOn: '2026-07-01', price: '9', currency: 'USD' },
              { effectiveOn: '2026-06-05', price: '3', currency: 'USD' },
            ],
          }
        : supply,
    );
    expect(costOf({}, supplies).lines[0]?.costPerKg).toBeCloseTo(0.6 * 3, 12);
  });

  it('has no total where something cannot be priced, and says what', () => {
    const without = (id: string, change: Partial<SupplyFacts>): SupplyFacts[] =>
      facts.supplies.map((supply) => (supply.id === id ? { ...supply, ...change } : supply));
    const unpriced = costOf({}, without('soda', { prices: [] }));
    expect(unpriced.totalPerKg).toBeNull();
    expect(unpriced.faults).toEqual(['Soda has no price on or before 2026-06-05.']);
    const foreign = costOf(
      {},
      without('wage', { prices: [{ effectiveOn: '2026-01-01', price: '25', currency: 'CAD' }] }),
    );
    expect(foreign.faults).toEqual(['Wage is priced in CAD; prices are reckoned in USD.']);
    expect(costOf({}, without('soda', { unit: 'L' })).faults).toEqual([
      'Soda is bought by the L, and is needed by the kg.',
    ]);
    expect(costOf({ fuelSupplyId: null, labourSupplyId: null }).faults).toHaveLength(2);
    expect(costOf({ recipe: [{ supplyId: 'gone', gramsPerHundredG: '5' }] }).faults).toHaveLength(1);
    expect(
      costOf(
        { recipe: [{ supplyId: 'litharge', gramsPerHundredG: '50' }] },
        facts.supplies.filter(({ kind }) => kind !== 'lead'),
      ).faults,
    ).toEqual(['Lead is not among the supplies, so lead that comes back has no price.']);
  });

  it('asks for nothing that a treatment without fuel and labour does not use', () => {
    const { totalPerKg, lines } = costOf({
      recipe: [],
      fuelSupplyId: null,
      fuelPerCharge: 0,
      labourSupplyId: null,
      labourHoursPerCharge: 0,
      crucibleSupplyId: null,
    });
    expect(lines.map(({ label }) => label)).toEqual(['Waste disposal']);
    expect(totalPerKg).toEqual({ low: 0.1, likely: 0.1, high: 0.1 });
  });
});
