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
  UNROUNDED,
} from './support.ts';

function final(terms: Terms, parcel: SettlementInput['parcel'], assays: SettlementInput['assays']) {
  return settle({ terms, stage: 'final', parcel, assays, prices: [], dates: NO_DATES, previouslyPaid: [] });
}

/**
 * Class exercise "valorización" of a lead-silver-gold concentrate, author not stated, prices of about 2010.
 * Its lead of 778.6239 USD per tonne recomputes with 2,204.6 lb to the tonne, the same as its 1.1023 short tons.
 */
const leadSilverGold: Terms = {
  ...startingTerms({ title: 'Lead-silver-gold concentrate', material: 'concentrate' }),
  factors: {
    ounceG: '31.1034768',
    poundsPerTonne: '2204.6',
    shortTonsPerTonne: '1.1023',
    longTonsPerTonne: '0.98420653',
  },
  weights: { kind: 'dry', unit: 'tonne', franchiseFrac: '0.02' },
  valuation: { kind: 'per-tonne', unit: 'tonne', totalPerTonne: true },
  assays: [
    assayRule('Pb', 'percent'),
    assayRule('Ag', 'oz/short ton'),
    assayRule('Au', 'oz/short ton'),
    assayRule('As', 'percent'),
    assayRule('Sb', 'percent'),
  ],
  metals: [
    metal(
      'Pb',
      'lb',
      '0.8260',
      { kind: 'unit-then-percent', paidFrac: '0.95', deduction: '1' },
      { refining: { kind: 'price-reduction', rate: '0.035', escalators: [] } },
    ),
    metal(
      'Ag',
      'ozt',
      '17.68',
      { kind: 'unit-then-percent', paidFrac: '0.95', deduction: '0' },
      { refining: { kind: 'price-reduction', rate: '0.35', escalators: [] } },
    ),
    metal(
      'Au',
      'ozt',
      '1186.10',
      { kind: 'unit-then-percent', paidFrac: '0.95', deduction: '0' },
      { refining: { kind: 'price-reduction', rate: '10', escalators: [] } },
    ),
  ],
  charges: [
    {
      kind: 'per-mass',
      purpose: 'treatment',
      name: 'Treatment charge',
      currency: null,
      rate: '195',
      basis: 'settlement',
      unit: 'tonne',
      minimum: null,
      escalators: [],
    },
  ],
  penalties: ['As', 'Sb'].map((element) => ({
    name: element,
    elements: [element],
    unit: 'percent',
    ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '0.2', step: '0.1', rate: '2' }] },
    basis: 'settlement',
    massUnit: 'tonne',
    refusedAbove: null,
  })),
  rounding: {
    ...startingTerms({ title: '', material: 'concentrate' }).rounding,
    mass: halfUp(3),
    perTonneValue: halfUp(4),
    money: halfUp(3),
  },
};

describe('published settlement sheets', () => {
  it('reproduces the lead-silver-gold concentrate of the class exercise "valorización" to its last digit', () => {
    const settlement = final(leadSilverGold, concentrate('1000000', '0.02'), [
      assay('Pb', 'percent', '48'),
      assay('Ag', 'oz/short ton', '20'),
      assay('Au', 'oz/short ton', '1'),
      assay('As', 'percent', '0.4'),
      assay('Sb', 'percent', '0.5'),
    ]);
    expect(blockersOf(settlement)).toEqual([]);
    expect(resultOf(settlement, 'weights/settlement')).toBe('960.400');
    expect(resultOf(settlement, 'payable/Pb/per-tonne')).toBe('778.6239');
    expect(resultOf(settlement, 'payable/Ag/per-tonne')).toBe('362.9543');
    expect(resultOf(settlement, 'payable/Au/per-tonne')).toBe('1231.5943');
    expect(resultOf(settlement, 'penalties/As/rate')).toBe('4.0000');
    expect(resultOf(settlement, 'penalties/Sb/rate')).toBe('6.0000');
    expect(settlement.total).toBe('2082312.869');
    expectProvable(settlement, leadSilverGold);
  });

  /** Exercise "Cálculo de valor de concentrado": zinc concentrate with silver, escalator and arsenic. */
  const zincSilver = (payableZinc = halfUp(2)): Terms => ({
    ...startingTerms({ title: 'Zinc concentrate with silver', material: 'concentrate' }),
    weights: { kind: 'dry', unit: 'tonne', franchiseFrac: '0.005' },
    assays: [assayRule('Zn', 'percent'), assayRule('Ag', 'oz/t'), assayRule('As', 'percent')],
    metals: [
      metal(
        'Zn',
        'tonne',
        '1000',
        { kind: 'unit-then-percent', paidFrac: '0.85', deduction: '0' },
        { rounding: payableZinc },
      ),
      metal(
        'Ag',
        'ozt',
        '13',
        { kind: 'unit-then-percent', paidFrac: '0.90', deduction: '5' },
        { refining: { kind: 'price-reduction', rate: '2', escalators: [] } },
      ),
    ],
    charges: [
      {
        kind: 'per-mass',
        purpose: 'treatment',
        name: 'Treatment charge',
        currency: null,
        rate: '140',
        basis: 'settlement',
        unit: 'tonne',
        minimum: null,
        escalators: [
          {
            metal: 'Zn',
            up: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '900', step: '1', rate: '0.10' }] },
            down: null,
            maximumIncrease: null,
            maximumDecrease: null,
          },
        ],
      },
    ],
    penalties: [
      {
        name: 'Arsenic',
        elements: ['As'],
        unit: 'percent',
        ladder: {
          kind: 'marginal',
          counting: 'pro-rata',
          bands: [{ from: '0.2', step: '0.1', rate: '1.5' }],
        },
        basis: 'settlement',
        massUnit: 'tonne',
        refusedAbove: null,
      },
    ],
    rounding: { ...startingTerms({ title: '', material: 'concentrate' }).rounding, mass: halfUp(2) },
  });
  const zincAssays = [assay('Zn', 'percent', '50'), assay('Ag', 'oz/t', '9'), assay('As', 'percent', '0.5')];

  it('reproduces the zinc concentrate of "Cálculo de valor de concentrado", which rounds the payable zinc to 0.01 t', () => {
    const terms = zincSilver();
    const settlement = final(terms, concentrate('200000', '0.10'), zincAssays);
    expect(resultOf(settlement, 'weights/settlement')).toBe('179.10');
    expect(resultOf(settlement, 'payable/Zn/metal')).toBe('76.12');
    expect(amountOf(settlement, 'charges/treatment')).toBe('-25074.00');
    expect(amountOf(settlement, 'charges/treatment/escalator-1')).toBe('-1791.00');
    expect(amountOf(settlement, 'penalties/As')).toBe('-805.95');
    expect(amountOf(settlement, 'payable/Ag')).toBe('7092.36');
    // Printed in whole dollars: 55,541.
    expect(settlement.total).toBe('55541.41');
    expectProvable(settlement, terms);
  });

  it('comes to 55,538.91 for the same sheet where the payable zinc is not rounded', () => {
    const terms = zincSilver(UNROUNDED);
    const settlement = final(terms, concentrate('200000', '0.10'), zincAssays);
    expect(Number(resultOf(settlement, 'payable/Zn/metal'))).toBe(76.1175);
    expect(settlement.total).toBe('55538.91');
  });

  /** LBMA, The Good Delivery Rules, Annex C: weighing and fine weight of gold bars. */
  it.each([
    // Gross in multiples of 0.025 oz, rounded down; fine weight to 0.001 oz.
    { grossOz: '401.149', gross: '401.125', fineness: '995.8', fine: '399.440' },
    { grossOz: '401.125', gross: '401.125', fineness: '995.8', fine: '399.440' },
  ])('gives the fine weight of a good delivery bar of $grossOz oz', ({ grossOz, gross, fineness, fine }) => {
    const start = startingTerms({ title: 'Gold bars', material: 'dore' });
    const terms: Terms = {
      ...start,
      weights: { kind: 'melt', unit: 'ozt', massOfRecord: 'received', meltLossLimitFrac: null },
      assays: [assayRule('Au', 'fineness', 1)],
      metals: [
        metal(
          'Au',
          'ozt',
          '2000',
          { kind: 'unit-then-percent', paidFrac: '1', deduction: '0' },
          { order: 'content' },
        ),
      ],
      rounding: { ...start.rounding, mass: { decimals: 3, rule: 'truncate', multipleOf: '0.025' } },
    };
    // Grams of the bar: one ten-thousandth above, so that the conversion back cannot fall short.
    const receivedG = (Number(grossOz) * 31.1034768 + 0.0001).toFixed(4);
    const settlement = final(terms, { kind: 'dore', bars: [{ name: 'Bar', receivedG, afterMeltG: null }] }, [
      assay('Au', 'fineness', fineness),
    ]);
    expect(resultOf(settlement, 'weights/settlement')).toBe(gross);
    expect(resultOf(settlement, 'payable/Au/contained')).toBe(fine);
    expectProvable(settlement, terms);
  });
});
