import { describe, expect, it } from 'vitest';
import { halfUp } from '../../../api/calc/rounding.ts';
import type { SettlementInput } from '../../../api/calc/settlement/input.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import {
  amountOf,
  assay,
  assayRule,
  blockersOf,
  concentrate,
  expectProvable,
  metal,
  NO_DATES,
  resultOf,
} from './support.ts';

function final(
  terms: Terms,
  parcel: SettlementInput['parcel'],
  assays: SettlementInput['assays'],
  more: Partial<SettlementInput> = {},
) {
  const settlement = settle({
    terms,
    stage: 'final',
    parcel,
    assays,
    prices: [],
    dates: NO_DATES,
    previouslyPaid: [],
    ...more,
  });
  expect(blockersOf(settlement)).toEqual([]);
  expectProvable(settlement, terms);
  return settlement;
}

const start = startingTerms({ title: 'A published contract', material: 'concentrate' });
const ONE_SHORT_TON_KG = '907.18474';
const all = { kind: 'unit-then-percent', paidFrac: '1', deduction: '0' } as const;

describe("lead concentrate of the Cœur d'Alene (W. R. Ingalls, Lead Smelting and Refining, 1906, article of 28 Nov 1903)", () => {
  // 90 % of lead, 95 % of silver; smelting 8 USD a ton; freight 8 under 50 USD of value, 10 from 50 to 65, 12 above.
  const terms: Terms = {
    ...start,
    weights: { kind: 'dry', unit: 'short ton', franchiseFrac: '0' },
    assays: [assayRule('Pb', 'percent'), assayRule('Ag', 'oz/short ton')],
    metals: [
      metal('Pb', 'lb', '0.035', { kind: 'unit-then-percent', paidFrac: '0.90', deduction: '0' }),
      metal('Ag', 'ozt', '0.50', { kind: 'unit-then-percent', paidFrac: '0.95', deduction: '0' }),
    ],
    charges: [
      {
        kind: 'per-mass',
        purpose: 'treatment',
        name: 'Smelting',
        currency: null,
        rate: '8',
        basis: 'dry',
        unit: 'short ton',
        minimum: null,
        escalators: [],
      },
      {
        kind: 'by-value',
        purpose: 'freight',
        name: 'Freight',
        currency: null,
        basis: 'dry',
        unit: 'short ton',
        brackets: {
          kind: 'bracket',
          brackets: [
            { from: '0', reachedAt: 'level', rate: '8' },
            { from: '50', reachedAt: 'level', rate: '10' },
            { from: '65', reachedAt: 'above', rate: '12' },
          ],
        },
      },
    ],
    rounding: { ...start.rounding, mass: halfUp(6) },
  };

  it('pays 31.50 + 14.25 − 16 = 29.75 for a ton of 50 % lead and 30 oz silver', () => {
    // The terms and the assays are the source's; the result is recomputed from them.
    const settlement = final(terms, concentrate(ONE_SHORT_TON_KG, '0'), [
      assay('Pb', 'percent', '50'),
      assay('Ag', 'oz/short ton', '30'),
    ]);
    expect(amountOf(settlement, 'payable/Pb')).toBe('31.50');
    expect(amountOf(settlement, 'payable/Ag')).toBe('14.25');
    expect(amountOf(settlement, 'charges/treatment')).toBe('-8.00');
    expect(amountOf(settlement, 'charges/freight')).toBe('-8.00');
    expect(settlement.total).toBe('29.75');
  });

  it.each([
    // Silver alone at 0.95 × 0.50 USD: value 49.99…, 50, 65 and just above.
    ['105.2421', '8.00'],
    ['105.2632', '10.00'],
    ['136.8421', '10.00'],
    ['136.8843', '12.00'],
  ])('carries a ton with %s oz of silver for %s', (ounces, freight) => {
    const settlement = final(terms, concentrate(ONE_SHORT_TON_KG, '0'), [
      assay('Pb', 'percent', '0'),
      assay('Ag', 'oz/short ton', ounces),
    ]);
    expect(amountOf(settlement, 'charges/freight')).toBe(`-${freight}`);
  });
});

describe('lead ore at Joplin (Ingalls, op. cit.): 32.25 USD per 1000 lb of 80 % ore or over, 50 c a unit less under 80 %', () => {
  const terms: Terms = {
    ...start,
    weights: { kind: 'dry', unit: 'lb', franchiseFrac: '0' },
    assays: [assayRule('Pb', 'percent')],
    credits: [{ kind: 'per-mass', name: 'Ore', rate: '0.03225', basis: 'dry', massUnit: 'lb' }],
    penalties: [
      {
        name: 'Under 80 % lead',
        elements: ['Pb'],
        unit: 'percent',
        ladder: {
          kind: 'shortfall',
          counting: 'pro-rata',
          bands: [{ from: '80', step: '1', rate: '0.0005' }],
        },
        basis: 'dry',
        massUnit: 'lb',
        refusedAbove: null,
      },
    ],
    rounding: { ...start.rounding, perTonneValue: halfUp(6) },
  };
  it.each([
    ['84', '32.25'],
    ['80', '32.25'],
    ['75', '29.75'],
    ['78.5', '31.50'],
  ])('pays for 1000 lb of %s %% ore %s', (lead, total) => {
    const settlement = final(terms, concentrate('453.59237', '0'), [assay('Pb', 'percent', lead)]);
    expect(settlement.total).toBe(total);
  });
});

describe('tin contract of B. A. Wills, Mineral Processing Technology, ch. 1 (terms as in published lecture notes)', () => {
  // Tin less one unit; 385 per dry tonne; 24 per tonne of moisture; arsenic 40 per unit; 175 for a lot under 17 t.
  const terms: Terms = {
    ...start,
    currency: 'GBP',
    assays: [assayRule('Sn', 'percent'), assayRule('As', 'percent')],
    metals: [metal('Sn', 'tonne', '8500', { kind: 'unit-then-percent', paidFrac: '1', deduction: '1' })],
    charges: [
      {
        kind: 'per-mass',
        purpose: 'treatment',
        name: 'Treatment charge',
        currency: null,
        rate: '385',
        basis: 'dry',
        unit: 'tonne',
        minimum: null,
        escalators: [],
      },
      {
        kind: 'per-mass',
        purpose: 'freight',
        name: 'Freight',
        currency: null,
        rate: '20',
        basis: 'dry',
        unit: 'tonne',
        minimum: null,
        escalators: [],
      },
      {
        kind: 'per-mass',
        purpose: 'handling',
        name: 'Moisture',
        currency: null,
        rate: '24',
        basis: 'moisture',
        unit: 'tonne',
        minimum: null,
        escalators: [],
      },
      {
        kind: 'flat',
        purpose: 'lot',
        name: 'Lot charge',
        currency: null,
        amount: '175',
        per: 'parcel',
        onlyBelow: { basis: 'dry', unit: 'tonne', mass: '17' },
      },
    ],
    penalties: [
      {
        name: 'Arsenic',
        elements: ['As'],
        unit: 'percent',
        ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '0', step: '1', rate: '40' }] },
        basis: 'dry',
        massUnit: 'tonne',
        refusedAbove: null,
      },
    ],
    rounding: { ...start.rounding, mass: halfUp(3), payableMetal: halfUp(6) },
  };

  it.each([
    // Grade, recovery and return per tonne of ore at 1 % tin; the returns are from memory of the book.
    [63, 62, '47.88'],
    [42, 72, '52.80'],
    [21, 78, '48.10'],
  ])('returns for %i %% tin at %i %% recovery %s a tonne of ore', (grade, recovery, perTonneOfOre) => {
    const oreT = 10_000;
    const concentrateKg = ((oreT * 0.01 * recovery) / grade) * 1000;
    const settlement = final(terms, concentrate(concentrateKg.toFixed(3), '0'), [
      assay('Sn', 'percent', String(grade)),
      assay('As', 'percent', '0'),
    ]);
    expect((Number(settlement.total) / oreT).toFixed(2)).toBe(perTonneOfOre);
  });

  it('charges moisture, arsenic and a small lot as the contract says', () => {
    // Derived: 10 t wet at 8 % moisture, 42 % Sn, 0.5 % As.
    const settlement = final(terms, concentrate('10000', '0.08'), [
      assay('Sn', 'percent', '42'),
      assay('As', 'percent', '0.5'),
    ]);
    expect(amountOf(settlement, 'payable/Sn')).toBe('32062.00');
    expect(amountOf(settlement, 'charges/treatment')).toBe('-3542.00');
    expect(amountOf(settlement, 'charges/handling')).toBe('-19.20');
    expect(amountOf(settlement, 'charges/lot')).toBe('-175.00');
    expect(amountOf(settlement, 'penalties/As')).toBe('-184.00');
  });
});

describe('prices per unit (F.-W. Wellmer et al., Economic Evaluations in Exploration, ch. 7)', () => {
  const oneTonne = concentrate('1000', '0');
  it('gives 32.00 USD for a tonne of 64 % iron ore at 0.50 USD a unit', () => {
    const terms = {
      ...start,
      assays: [assayRule('Fe', 'percent')],
      metals: [metal('Fe', 'unit', '0.50', all)],
    };
    expect(final(terms, oneTonne, [assay('Fe', 'percent', '64')]).total).toBe('32.00');
  });
  it('gives 27.20 USD for a tonne of ore with 0.8 % WO3, 85 % recovered, at 40 USD a unit', () => {
    const form = { ...all, paidFrac: '0.85' };
    const terms = {
      ...start,
      assays: [assayRule('WO3', 'percent')],
      metals: [metal('WO3', 'unit', '40', form)],
    };
    expect(final(terms, oneTonne, [assay('WO3', 'percent', '0.8')]).total).toBe('27.20');
  });
});

describe('ore contract of Kennedy v. Schwartz, 13 Nev. 229 (1878)', () => {
  // 10 USD a ton; half of the assay value above 60; 25 c for each per cent of lead above 30. Vectors derived.
  const terms: Terms = {
    ...start,
    weights: { kind: 'dry', unit: 'short ton', franchiseFrac: '0' },
    assays: [assayRule('Ag', 'oz/short ton'), assayRule('Pb', 'percent')],
    metals: [metal('Ag', 'ozt', '1', { ...all, paidFrac: '0' })],
    credits: [
      { kind: 'per-mass', name: 'Each ton', rate: '10', basis: 'dry', massUnit: 'short ton' },
      {
        kind: 'assay-value',
        name: 'Half the value above 60',
        metals: ['Ag'],
        above: '60',
        shareFrac: '0.5',
        massUnit: 'short ton',
      },
      {
        kind: 'component',
        name: 'Lead above 30 %',
        elements: ['Pb'],
        unit: 'percent',
        ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '30', step: '1', rate: '0.25' }] },
        basis: 'dry',
        massUnit: 'short ton',
      },
    ],
    rounding: { ...start.rounding, mass: halfUp(6) },
  };
  it.each([
    ['100', '20', '30.00'],
    ['75', '42', '20.50'],
    ['60', '30', '10.00'],
  ])('pays for %s USD of silver and %s %% lead %s', (value, lead, total) => {
    const settlement = final(terms, concentrate(ONE_SHORT_TON_KG, '0'), [
      assay('Ag', 'oz/short ton', value),
      assay('Pb', 'percent', lead),
    ]);
    expect(settlement.total).toBe(total);
  });
});

describe('cost of lead from concentrate (H. C. Hoover, Principles of Mining, 1909, ch. IV)', () => {
  // Ore at 4 USD a ton, 4.66 tons to one of 70 % concentrate: 18.64; smelter 15 USD a ton; 33.64 USD, 2.40 c/lb.
  const lead = (paidFrac: string, price: string): Terms => ({
    ...start,
    weights: { kind: 'dry', unit: 'short ton', franchiseFrac: '0' },
    assays: [assayRule('Pb', 'percent')],
    metals: [metal('Pb', 'lb', price, { ...all, paidFrac })],
    charges: [
      {
        kind: 'per-mass',
        purpose: 'treatment',
        name: 'Smelter',
        currency: null,
        rate: '15',
        basis: 'dry',
        unit: 'short ton',
        minimum: null,
        escalators: [],
      },
    ],
    rounding: { ...start.rounding, mass: halfUp(6) },
  });
  const ton = concentrate(ONE_SHORT_TON_KG, '0');
  const assays = [assay('Pb', 'percent', '70')];

  it('just covers the ore at 33.64 USD over all 1,400 lb of lead, his 2.40 c/lb', () => {
    expect((33.64 / 1400).toFixed(4)).toBe('0.0240');
    expect(final(lead('1', (33.64 / 1400).toFixed(8)), ton, assays).total).toBe('18.64');
  });
  it('needs 2.53 c/lb where only the 95 % that the smelter pays for is counted, which he leaves out', () => {
    expect(final(lead('0.95', (33.64 / 1330).toFixed(8)), ton, assays).total).toBe('18.64');
    expect((33.64 / 1330).toFixed(4)).toBe('0.0253');
  });
});

describe('silver bar on common scales (C. H. Aaron, Leaching Gold and Silver Ores, item 202)', () => {
  // 82 lb 3¼ oz avoirdupois, .969 fine; a pound of pure silver is worth 18.85 USD.
  const bars = startingTerms({ title: 'Bars', material: 'dore' });
  const terms: Terms = {
    ...bars,
    weights: { kind: 'melt', unit: 'lb', massOfRecord: 'received', meltLossLimitFrac: null },
    factors: { ...bars.factors, poundsPerTonne: '2204.6226218' },
    assays: [assayRule('Ag', 'fineness', 1)],
    metals: [metal('Ag', 'lb', '18.85', all)],
    rounding: { ...bars.rounding, mass: halfUp(6), payableMetal: halfUp(6) },
  };
  const bar = (pounds: number): SettlementInput['parcel'] => ({
    kind: 'dore',
    bars: [{ name: 'Bar', receivedG: (pounds * 453.59237).toFixed(6), afterMeltG: null }],
  });
  const fineness = [assay('Ag', 'fineness', '969')];

  it('is worth 1,501.49 USD where nothing is rounded on the way', () => {
    expect(final(terms, bar(82 + 3.25 / 16), fineness).total).toBe('1501.49');
  });
  it('is worth his 1,497.32 for the 82 lb where 18.26565 a pound is cut to 18.26', () => {
    // His 1,500.99 adds 3¼ oz at 1.13 each, 3.67, from a price per ounce he rounds on its own.
    const hisWay: Terms = {
      ...terms,
      valuation: { kind: 'per-tonne', unit: 'lb', totalPerTonne: false },
      rounding: { ...terms.rounding, perTonneValue: { decimals: 2, rule: 'truncate', multipleOf: null } },
    };
    const settlement = final(hisWay, bar(82), fineness);
    expect(resultOf(settlement, 'payable/Ag/per-tonne')).toBe('18.26');
    expect(settlement.total).toBe('1497.32');
  });
});

describe('silver in an ore by screen metallics (C. & J. J. Beringer, A Text-book of Assaying, 9th ed. 1904)', () => {
  it('turns 0.7342 % into 239.8 oz to the long ton', () => {
    const terms: Terms = {
      ...start,
      // His long-ton assay ton: 32,666.67 oz to the ton.
      assays: [assayRule('Ag', 'oz/long ton', 1)],
      metals: [metal('Ag', 'ozt', '1', all)],
      rounding: { ...start.rounding, mass: halfUp(3) },
    };
    const settlement = final(terms, concentrate('1016.047', '0'), [assay('Ag', 'percent', '0.7342')]);
    expect(resultOf(settlement, 'assays/Ag')).toBe('239.8');
  });
});

describe('metal mines licence tax, Montana Code Annotated 15-37-103', () => {
  // Concentrate: nothing on the first 250,000 USD, 1.81 % above. Doré: nothing, then 1.6 %.
  const bars = startingTerms({ title: 'Bars', material: 'dore' });
  const taxed = (rateFrac: string): Terms => ({
    ...bars,
    weights: { kind: 'melt', unit: 'ozt', massOfRecord: 'received', meltLossLimitFrac: null },
    assays: [assayRule('Au', 'fineness', 1)],
    metals: [metal('Au', 'ozt', '1000', all, { order: 'content' })],
    royalties: [
      {
        name: 'Licence tax',
        kind: 'production-tax',
        base: { kind: 'gross-value' },
        rate: {
          kind: 'bands',
          bands: [
            { from: '0', rateFrac: '0' },
            { from: '250000', rateFrac },
          ],
        },
        exemption: null,
        paidBy: 'buyer-withholds',
        payees: [],
      },
    ],
  });
  const goldOz = (ounces: number): SettlementInput['parcel'] => ({
    kind: 'dore',
    bars: [{ name: 'Bar', receivedG: (ounces * 31.1034768).toFixed(7), afterMeltG: null }],
  });
  const pure = [assay('Au', 'fineness', '1000')];
  it.each([
    ['0.0181', 1000, '13575.00'],
    ['0.016', 1000, '12000.00'],
    ['0.0181', 250, '0.00'],
    ['0.016', 250, '0.00'],
  ])('at %s on %i thousand USD is %s', (rateFrac, ounces, tax) => {
    const settlement = final(taxed(rateFrac), goldOz(ounces), pure);
    expect(Math.abs(Number(amountOf(settlement, 'royalties/licence-tax'))).toFixed(2)).toBe(tax);
  });
  it('counts what was sold before in the year', () => {
    const settlement = final(taxed('0.0181'), goldOz(800), pure, {
      royaltyBasesToDate: [{ name: 'Licence tax', amount: '200000.00' }],
    });
    expect(amountOf(settlement, 'royalties/licence-tax')).toBe('-13575.00');
  });
  it('is the same written as an exemption with a flat rate', () => {
    const [tax] = taxed('0.0181').royalties;
    const royalties =
      tax === undefined
        ? []
        : [{ ...tax, rate: { kind: 'flat' as const, rateFrac: '0.0181' }, exemption: '250000' }];
    const settlement = final({ ...taxed('0.0181'), royalties }, goldOz(1000), pure);
    expect(amountOf(settlement, 'royalties/licence-tax')).toBe('-13575.00');
  });
});
