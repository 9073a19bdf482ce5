import { describe, expect, it } from 'vitest';
import { halfUp } from '../../../api/calc/rounding.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import type { Penalty } from '../../../api/calc/terms/charge-terms.ts';
import type { PriceUnit } from '../../../api/calc/terms/term-units.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import {
  assay,
  assayRule,
  blockersOf,
  concentrate,
  expectProvable,
  metal,
  NO_DATES,
  resultOf,
} from './support.ts';

/**
 * Published sheet "Condición general de valorización", copper concentrate with silver and gold, prices of
 * 8 June 2007, author not stated: two-band penalty on the sum of arsenic and antimony, bismuth, mercury in ppm,
 * treatment charge per short ton, everything per dry tonne and multiplied once.
 */
function copperTerms(): Terms {
  const start = startingTerms({ title: 'Copper concentrate', material: 'concentrate' });
  const paid = (symbol: string, unit: PriceUnit, price: string, frac: string, units: string, less: string) =>
    metal(
      symbol,
      unit,
      price,
      { kind: 'unit-then-percent', paidFrac: frac, deduction: units },
      { refining: { kind: 'price-reduction', rate: less, escalators: [] } },
    );
  const penalty = (
    elements: string[],
    unit: Penalty['unit'],
    bands: { from: string; step: string; rate: string }[],
  ): Penalty => ({
    name: elements.join(' + '),
    elements,
    unit,
    ladder: { kind: 'marginal', counting: 'pro-rata', bands },
    basis: 'settlement',
    massUnit: 'tonne',
    refusedAbove: null,
  });
  return {
    ...start,
    // The sheet states c/lb to USD/t as 22.046223 and short ton to tonne as 1.10231.
    factors: {
      ...start.factors,
      ounceG: '31.1035',
      poundsPerTonne: '2204.6223',
      shortTonsPerTonne: '1.10231',
    },
    weights: { kind: 'dry', unit: 'tonne', franchiseFrac: '0.0085' },
    valuation: { kind: 'per-tonne', unit: 'tonne', totalPerTonne: true },
    assays: [
      assayRule('Cu', 'percent'),
      assayRule('Ag', 'oz/short ton'),
      assayRule('Au', 'oz/t'),
      assayRule('As', 'percent'),
      assayRule('Sb', 'percent'),
      assayRule('Bi', 'percent'),
      assayRule('Hg', 'ppm'),
    ],
    metals: [
      paid('Cu', 'lb', '3.3044', '1', '1.1', '0.105'),
      paid('Ag', 'ozt', '13.2', '0.95', '0', '0.34'),
      paid('Au', 'ozt', '655.25', '0.96', '0', '8.5'),
    ],
    charges: [
      {
        kind: 'per-mass',
        purpose: 'treatment',
        name: 'Treatment charge',
        currency: null,
        // The sheet brings 160 USD per dry short ton to the tonne before it is deducted: 176.3696.
        rate: '176.3696',
        basis: 'settlement',
        unit: 'tonne',
        minimum: null,
        escalators: [],
      },
    ],
    penalties: [
      penalty(['As', 'Sb'], 'percent', [
        { from: '3', step: '1', rate: '1.5' },
        { from: '4.5', step: '1', rate: '2' },
      ]),
      penalty(['Bi'], 'percent', [{ from: '0.1', step: '0.1', rate: '2' }]),
      penalty(['Hg'], 'ppm', [{ from: '50', step: '50', rate: '5' }]),
    ],
    // The sheet carries every digit and rounds only what it prints.
    rounding: {
      ...start.rounding,
      mass: halfUp(8),
      payableGrade: halfUp(8),
      price: halfUp(8),
      perTonneValue: halfUp(8),
    },
  };
}

describe('the published copper sheet of June 2007', () => {
  const terms = copperTerms();
  const settlement = settle({
    terms,
    stage: 'final',
    parcel: concentrate('600150', '0.0785'),
    assays: [
      assay('Cu', 'percent', '55'),
      assay('Ag', 'oz/short ton', '80'),
      assay('Au', 'oz/t', '1.8'),
      assay('As', 'percent', '6.5'),
      assay('Sb', 'percent', '0'),
      assay('Bi', 'percent', '0.7'),
      assay('Hg', 'ppm', '150'),
    ],
    prices: [],
    dates: NO_DATES,
    previouslyPaid: [],
  });

  it.each([
    ['weights/dry', 2, '553.04'],
    ['weights/settlement', 4, '548.3374'],
    ['payable/Cu/per-tonne', 2, '3801.82'],
    ['payable/Ag/per-tonne', 2, '1077.35'],
    ['payable/Au/per-tonne', 2, '1117.58'],
    ['penalties/As+Sb/rate', 2, '6.25'],
    ['penalties/Bi/rate', 2, '12.00'],
    ['penalties/Hg/rate', 2, '10.00'],
  ])('prints %s with %i decimals as %s', (id, decimals, printed) => {
    expect(Number(resultOf(settlement, id)).toFixed(decimals)).toBe(printed);
  });

  it('nets the values per tonne as printed: 5,996.76, after treatment 5,820.39, after penalties 5,792.14', () => {
    const per = (id: string) => Number(resultOf(settlement, id));
    const metals = per('payable/Cu/per-tonne') + per('payable/Ag/per-tonne') + per('payable/Au/per-tonne');
    expect(metals.toFixed(2)).toBe('5996.76');
    expect((metals - 176.3696).toFixed(2)).toBe('5820.39');
    expect((metals - 176.3696 - 6.25 - 12 - 10).toFixed(2)).toBe('5792.14');
  });

  it('comes to the printed net value of 3,176,045.71, to the cent', () => {
    expect(blockersOf(settlement)).toEqual([]);
    expect(settlement.total).toBe('3176045.71');
    expectProvable(settlement, terms);
  });

  it('makes a two-cent difference whether 160 per short ton is brought to tonnes or the mass to short tons', () => {
    const charges = terms.charges.map((charge) =>
      charge.kind === 'per-mass' ? { ...charge, rate: '160', unit: 'short ton' as const } : charge,
    );
    const perShortTon = settle({
      terms: { ...terms, charges },
      stage: 'final',
      prices: [],
      dates: NO_DATES,
      previouslyPaid: [],
      parcel: concentrate('600150', '0.0785'),
      assays: terms.assays.map((rule) =>
        assay(
          rule.element,
          rule.unit,
          { Cu: '55', Ag: '80', Au: '1.8', As: '6.5', Sb: '0', Bi: '0.7', Hg: '150' }[rule.element] ?? '',
        ),
      ),
    });
    expect(Math.abs(Number(perShortTon.total) - Number(settlement.total))).toBeLessThanOrEqual(0.02);
  });
});
