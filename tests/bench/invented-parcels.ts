import { halfUp } from '../../api/calc/rounding.ts';
import type { SettlementInput } from '../../api/calc/settlement/input.ts';
import type { AssayRule } from '../../api/calc/terms/assay-terms.ts';
import type { Charge, Penalty } from '../../api/calc/terms/charge-terms.ts';
import type { MetalTerms } from '../../api/calc/terms/metal-terms.ts';
import { startingTerms } from '../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../api/calc/terms/terms.ts';

/** An invented contract with twenty clauses that each bring a line of money; no such parties exist. */

const exchanged = (element: string, unit: 'g/t' | 'percent', decimals: number, limit: string): AssayRule => ({
  element,
  unit,
  rounding: halfUp(decimals),
  settledBy: {
    kind: 'exchange',
    splittingLimits: [{ fromGrade: '0', limit }],
    umpire: { rule: 'middle-of-three', cost: '180', costBorneBy: 'further-party', advancedBy: 'buyer' },
    absentPartyBound: true,
  },
});

const payable = (metal: string, form: MetalTerms['form'], refining: string): MetalTerms => ({
  metal,
  form,
  minimumGrade: null,
  order: 'grade',
  price: {
    unit: metal === 'Cu' ? 'tonne' : 'ozt',
    currency: null,
    paidFrac: '1',
    reduction: '0',
    basis: {
      kind: 'quotations',
      source: 'invented daily price',
      period: { kind: 'calendar-month', event: 'arrival', monthsAfter: 1 },
      provisional: { kind: 'latest' },
    },
  },
  refining: { kind: 'per-payable-unit', rate: refining, escalators: [] },
  rounding: null,
});

const perTonne = (
  purpose: Charge['purpose'],
  name: string,
  rate: string,
  basis: 'wet' | 'settlement',
): Charge => ({
  kind: 'per-mass',
  purpose,
  name,
  currency: null,
  rate,
  basis,
  unit: 'tonne',
  minimum: null,
  escalators: [],
});

const penalty = (name: string, element: string, from: string, step: string, rate: string): Penalty => ({
  name,
  elements: [element],
  unit: 'percent',
  ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from, step, rate }] },
  basis: 'settlement',
  massUnit: 'tonne',
  refusedAbove: null,
});

const IMPURITIES = ['As', 'Sb', 'Bi', 'Hg', 'Zn'];

/** Three metals with their refining, six charges, five penalties, one credit and two royalties: twenty. */
export const TWENTY_CLAUSES: Terms = {
  ...startingTerms({ title: 'Invented contract of twenty clauses', material: 'concentrate' }),
  weights: { kind: 'dry', unit: 'kg', franchiseFrac: '0.005' },
  assays: [
    exchanged('Au', 'g/t', 2, '0.5'),
    exchanged('Ag', 'g/t', 0, '15'),
    exchanged('Cu', 'percent', 2, '0.2'),
    ...IMPURITIES.map((element) => exchanged(element, 'percent', 3, '0.05')),
    exchanged('S', 'percent', 1, '0.5'),
  ],
  metals: [
    payable('Au', { kind: 'lesser-of', paidFrac: '0.965', deduction: '1' }, '8'),
    payable('Ag', { kind: 'unit-then-percent', paidFrac: '0.95', deduction: '30' }, '0.55'),
    payable('Cu', { kind: 'lesser-of', paidFrac: '0.96', deduction: '1.1' }, '140'),
  ],
  charges: [
    perTonne('treatment', 'Treatment charge', '240', 'settlement'),
    perTonne('freight', 'Freight', '55', 'wet'),
    perTonne('sampling', 'Sampling', '4.5', 'wet'),
    {
      kind: 'flat',
      purpose: 'lot',
      name: 'Lot charge',
      currency: null,
      amount: '650',
      per: 'parcel',
      onlyBelow: { basis: 'dry', unit: 'tonne', mass: '20' },
    },
    {
      kind: 'flat',
      purpose: 'representation',
      name: 'Representation',
      currency: null,
      amount: '320',
      per: 'parcel',
      onlyBelow: null,
    },
    {
      kind: 'share-of-value',
      purpose: 'insurance',
      name: 'Insurance',
      currency: null,
      shareFrac: '0.0006',
      ofFrac: '1.10',
      minimum: null,
    },
  ],
  penalties: [
    penalty('Arsenic', 'As', '0.2', '0.1', '2.5'),
    penalty('Antimony', 'Sb', '0.05', '0.1', '3'),
    penalty('Bismuth', 'Bi', '0.02', '0.01', '1.1'),
    penalty('Mercury', 'Hg', '0.001', '0.001', '0.2'),
    penalty('Zinc', 'Zn', '3', '1', '1.5'),
  ],
  credits: [
    {
      kind: 'component',
      name: 'Sulfur',
      elements: ['S'],
      unit: 'percent',
      ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '28', step: '1', rate: '0.4' }] },
      basis: 'settlement',
      massUnit: 'tonne',
    },
  ],
  royalties: [
    {
      kind: 'royalty',
      name: 'Claim owner',
      rate: { kind: 'flat', rateFrac: '0.02' },
      base: { kind: 'net-smelter-return' },
      exemption: null,
      paidBy: 'buyer-withholds',
      payees: [],
    },
    {
      kind: 'production-tax',
      name: 'Production tax',
      rate: { kind: 'flat', rateFrac: '0.0125' },
      base: { kind: 'gross-value' },
      exemption: null,
      paidBy: 'buyer-withholds',
      payees: [],
    },
  ],
};

/** Weekday quotations of a month and a half around the quotational month, invented. */
function quotations(first: number, step: number): { date: string; price: string }[] {
  return Array.from({ length: 61 }, (_, day) => new Date(Date.UTC(2026, 4, 1 + day)))
    .filter((date) => date.getUTCDay() % 6 !== 0)
    .map((date, index) => ({
      date: date.toISOString().slice(0, 10),
      price: (first + step * index).toFixed(2),
    }));
}
const PRICES: SettlementInput['prices'] = [
  { metal: 'Au', price: null, basis: 'invented', quotations: quotations(3000, 1.25) },
  { metal: 'Ag', price: null, basis: 'invented', quotations: quotations(31, 0.02) },
  { metal: 'Cu', price: null, basis: 'invented', quotations: quotations(9400, 3.5) },
];

/** A parcel of two sublots; every number gives others, so that nothing could be kept from one to the next. */
export function inventedParcel(number: number): SettlementInput {
  const varied = (base: number, spread: number, decimals: number, prime: number): string =>
    (base + (spread * ((number * prime) % 997)) / 997).toFixed(decimals);
  const assay = (element: string, unit: 'g/t' | 'percent', result: string, apart: string) => ({
    element,
    unit,
    own: result,
    buyer: (Number(result) + Number(apart)).toFixed(3),
    umpire: null,
  });
  return {
    terms: TWENTY_CLAUSES,
    stage: 'final',
    parcel: {
      kind: 'concentrate',
      sublots: [
        {
          name: 'A',
          grossKg: varied(8100, 900, 1, 31),
          tareKg: '120',
          moistureFrac: varied(0.07, 0.03, 4, 37),
        },
        {
          name: 'B',
          grossKg: varied(7400, 800, 1, 41),
          tareKg: '118.5',
          moistureFrac: varied(0.07, 0.03, 4, 43),
        },
      ],
    },
    assays: [
      assay('Au', 'g/t', varied(38, 12, 2, 47), '0.2'),
      assay('Ag', 'g/t', varied(480, 300, 0, 53), '6'),
      assay('Cu', 'percent', varied(14, 5, 2, 59), '-0.1'),
      assay('As', 'percent', varied(0.3, 0.4, 3, 61), '0.02'),
      assay('Sb', 'percent', varied(0.06, 0.2, 3, 67), '0.01'),
      assay('Bi', 'percent', varied(0.02, 0.05, 3, 71), '0.004'),
      assay('Hg', 'percent', varied(0.002, 0.004, 3, 73), '0.001'),
      assay('Zn', 'percent', varied(2.8, 2, 3, 79), '-0.03'),
      assay('S', 'percent', varied(27, 6, 1, 83), '0.2'),
    ],
    prices: PRICES,
    dates: {
      shippedOn: '2026-04-20',
      arrivedOn: '2026-05-06',
      weighedOn: null,
      meltedOn: null,
      assaysExchangedOn: null,
      priceDeclaredOn: null,
      statementOn: '2026-07-02',
    },
    previouslyPaid: [],
  };
}
