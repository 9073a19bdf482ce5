import { describe, expect, it } from 'vitest';
import { halfUp } from '../../../api/calc/rounding.ts';
import type { SettlementInput } from '../../../api/calc/settlement/input.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import type { TaxTerms } from '../../../api/calc/terms/charge-terms.ts';
import { checkTerms } from '../../../api/calc/terms/check-terms.ts';
import { compileEstimate } from '../../../api/calc/terms/estimate.ts';
import type { PayableForm, PriceTerms } from '../../../api/calc/terms/metal-terms.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import { termsSentences } from '../../../api/calc/terms/terms-sentences.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { termsSchema } from '../../../api/schemas/terms.ts';
import {
  amountOf,
  assay,
  assayRule,
  blockersOf,
  concentrate,
  expectProvable,
  lineOf,
  metal,
  NO_DATES,
  resultOf,
} from './support.ts';

/** Invented contracts and parcels; every figure is worked by hand in the comment beside it. */

const paid = (paidFrac: string): PayableForm => ({ kind: 'percent-then-unit', paidFrac, deduction: '0' });
const gold = (form: PayableForm, more = {}) => metal('Au', 'ozt', '2000', form, more);

function contract(parts: Partial<Terms>): Terms {
  return {
    ...startingTerms({ title: 'An invented contract', material: 'concentrate' }),
    weights: { kind: 'dry', unit: 'tonne', franchiseFrac: '0' },
    assays: [assayRule('Au', 'g/t', 2), assayRule('Cu', 'percent', 2), assayRule('As', 'percent', 2)],
    metals: [gold(paid('0.95'))],
    ...parts,
  };
}

/** 10 t dry with 31.1034768 g/t gold: ten ounces exactly. */
function work(parts: Partial<Terms>, more: Partial<SettlementInput> = {}) {
  const terms = contract({
    rounding: { ...contract({}).rounding, mass: halfUp(3) },
    ...parts,
  });
  expect(termsSchema.parse(terms)).toEqual(terms);
  expect(checkTerms(terms).filter((finding) => finding.level === 'blocker')).toEqual([]);
  for (const { sentence } of termsSentences(terms)) expect(sentence).not.toMatch(/undefined|null|NaN/);
  const settlement = settle({
    terms,
    stage: 'final',
    parcel: concentrate('10000', '0'),
    assays: [assay('Au', 'g/t', '12.40'), assay('Cu', 'percent', '24.50'), assay('As', 'percent', '0.50')],
    prices: [],
    dates: NO_DATES,
    previouslyPaid: [],
    ...more,
  });
  expectProvable(settlement, terms);
  return settlement;
}

const sentencesOf = (parts: Partial<Terms>) =>
  termsSentences(contract(parts))
    .map(({ sentence }) => sentence)
    .join(' ');

describe('gold paid by the grade of copper', () => {
  const byCopper: PayableForm = {
    kind: 'steps',
    by: 'Cu',
    steps: [
      { fromGrade: '0', form: paid('0.90') as never },
      { fromGrade: '20', form: paid('0.95') as never },
    ],
  };

  it('takes the step that copper reaches, and keeps the least deduction back', () => {
    // 12.40 × 95 % = 11.78; 12.40 − 1 = 11.40 is less; 11.40 g/t × 10 t ÷ 31.1034768 = 3.665 ozt.
    const settlement = work({ metals: [gold(byCopper, { minimumDeduction: '1' })] });
    expect(resultOf(settlement, 'payable/Au/grade')).toBe('11.4000');
    expect(resultOf(settlement, 'payable/Au/metal')).toBe('3.665');
  });

  it('takes the lower step where copper is poorer', () => {
    const assays = [
      assay('Au', 'g/t', '12.40'),
      assay('Cu', 'percent', '19.99'),
      assay('As', 'percent', '0'),
    ];
    // 12.40 × 90 % = 11.16.
    expect(resultOf(work({ metals: [gold(byCopper)] }, { assays }), 'payable/Au/grade')).toBe('11.1600');
  });

  it('needs the assay of what chooses, and reads so', () => {
    const terms = contract({ metals: [gold(byCopper)], assays: [assayRule('Au', 'g/t', 2)] });
    expect(checkTerms(terms)).toContainEqual(
      expect.objectContaining({ code: 'no-assay-rule', path: '/metals/0/form/by' }),
    );
    expect(sentencesOf({ metals: [gold(byCopper)] })).toContain(
      'by the step that Cu reaches: from 0 percent 90 %',
    );
  });
});

describe('a recovery schedule that slides with the grade', () => {
  const schedule: PayableForm = {
    kind: 'sliding',
    form: { kind: 'percent-then-unit', paidFrac: '0.80', deduction: '0' },
    slides: 'paidFrac',
    by: null,
    fromGrade: '5',
    step: '1',
    change: '0.005',
    counting: 'pro-rata',
    minimum: '0.70',
    maximum: '0.92',
  };

  it.each([
    // 80 + 7.4 × 0.5 = 83.7 %: 12.40 × 83.7 % = 10.3788.
    ['12.40', '83.7000', '10.3788'],
    // 80 + 35 × 0.5 = 97.5, no more than 92: 36.80.
    ['40.00', '92.0000', '36.8000'],
    // 80 − 2 × 0.5 = 79: 2.37.
    ['3.00', '79.0000', '2.3700'],
  ])('at %s g/t pays %s %%', (grade, percent, payable) => {
    const assays = [assay('Au', 'g/t', grade), assay('Cu', 'percent', '1'), assay('As', 'percent', '0')];
    const settlement = work({ metals: [gold(schedule)] }, { assays });
    expect(resultOf(settlement, 'payable/Au/sliding')).toBe(percent);
    expect(resultOf(settlement, 'payable/Au/grade')).toBe(payable);
  });

  it('counts whole steps only where it says so', () => {
    // Seven whole steps of 7.4: 83.5 % × 12.40 = 10.354.
    const settlement = work({ metals: [gold({ ...schedule, counting: 'whole-steps' })] });
    expect(resultOf(settlement, 'payable/Au/grade')).toBe('10.3540');
  });

  it('lets a deduction grow as copper falls', () => {
    // 1 unit at 30 % copper, 0.1 more for every 1 % below: 1 + 5.5 × 0.1 = 1.55; (24.50 − 1.55) × 96.5 % = 22.1468.
    const copper = metal('Cu', 'tonne', '9000', {
      kind: 'sliding',
      form: { kind: 'unit-then-percent', paidFrac: '0.965', deduction: '1' },
      slides: 'deduction',
      by: null,
      fromGrade: '30',
      step: '1',
      change: '-0.1',
      counting: 'pro-rata',
      minimum: null,
      maximum: null,
    });
    const settlement = work({ metals: [copper] });
    expect(resultOf(settlement, 'payable/Cu/sliding')).toBe('1.5500');
    expect(resultOf(settlement, 'payable/Cu/grade')).toBe('22.1468');
  });
});

const month = (monthsAfter: number) =>
  ({
    kind: 'quotations',
    source: 'an invented daily price',
    period: { kind: 'calendar-month', event: 'arrival', monthsAfter },
    provisional: { kind: 'latest' },
    paidFrac: '1',
  }) as const;

const dates = { ...NO_DATES, arrivedOn: '2031-05-06', statementOn: '2031-08-01' };
const quotations = [
  { date: '2031-05-12', price: '2300.00' },
  { date: '2031-05-30', price: '2310.00' },
  { date: '2031-06-10', price: '2280.00' },
  { date: '2031-06-30', price: '2290.00' },
];
const priceOf = (basis: PriceTerms['basis'], more: Partial<PriceTerms> = {}): PriceTerms => ({
  unit: 'ozt',
  currency: null,
  basis,
  paidFrac: '1',
  reduction: '0',
  ...more,
});

describe('a price chosen from several', () => {
  const chosen = (rule: 'lowest' | 'highest' | 'mean' | 'buyer-option') =>
    priceOf({ kind: 'choice', rule, options: [month(0), { ...month(1), paidFrac: '0.98' }] });
  const parcel = (more: object = {}): Partial<SettlementInput> => ({
    dates,
    prices: [{ metal: 'Au', price: null, basis: '', quotations, ...more }],
  });

  it.each([
    // May: (2300 + 2310) ÷ 2 = 2305. June: 2285, 98 % of it 2239.30.
    ['lowest', '2239.3000'],
    ['highest', '2305.0000'],
    ['mean', '2272.1500'],
  ] as const)('is the %s', (rule, price) => {
    const settlement = work({ metals: [gold(paid('0.95'), { price: chosen(rule) })] }, parcel());
    expect(resultOf(settlement, 'prices/Au')).toBe(price);
  });

  it('takes a price typed for one of the options', () => {
    const typed = parcel({ options: [{ option: 1, price: '2400.00', basis: 'fax of 2 July' }] });
    // 2400 × 98 % = 2352, above 2305.
    const settlement = work({ metals: [gold(paid('0.95'), { price: chosen('lowest') })] }, typed);
    expect(resultOf(settlement, 'prices/Au/option-2/counted')).toBe('2352.0000');
    expect(resultOf(settlement, 'prices/Au')).toBe('2305.0000');
  });

  it('waits for the party whose option it is, and takes what it declared', () => {
    const metals = [gold(paid('0.95'), { price: chosen('buyer-option') })];
    expect(blockersOf(settle(input(metals, parcel())))).toEqual(['option-not-declared', 'total-not-issued']);
    expect(resultOf(work({ metals }, parcel({ declaredOption: 1 })), 'prices/Au')).toBe('2239.3000');
  });

  it('is estimated by one price with the parts that count', () => {
    const at = (rule: 'lowest' | 'highest' | 'mean' | 'buyer-option') =>
      compileEstimate(contract({ metals: [gold(paid('1'), { price: chosen(rule) })] }))({
        wetMassKg: 1000,
        dryMassKg: 1000,
        assays: { Au: 31.1034768, Cu: 0, As: 0 },
        prices: { Au: 2000 },
      }).netValue;
    expect(at('lowest')).toBeCloseTo(1960, 6);
    expect(at('highest')).toBeCloseTo(2000, 6);
    expect(at('mean')).toBeCloseTo(1980, 6);
  });

  function input(metals: Terms['metals'], more: Partial<SettlementInput>): SettlementInput {
    return {
      terms: contract({ metals }),
      stage: 'final',
      parcel: concentrate('10000', '0'),
      assays: [assay('Au', 'g/t', '12.40')],
      prices: [],
      dates: NO_DATES,
      previouslyPaid: [],
      ...more,
    };
  }
});

describe('a floor and a cap of the price', () => {
  const collar = (price: string) =>
    work({
      metals: [
        gold(paid('0.95'), {
          price: priceOf(
            { kind: 'fixed', price },
            { floor: '1900', cap: '2100', paidFrac: '0.98', reduction: '10' },
          ),
        }),
      ],
    });

  it.each([
    // 1900 × 98 % − 10; 2000 × 98 % − 10; 2100 × 98 % − 10.
    ['1500', '1852.0000'],
    ['2000', '1950.0000'],
    ['2500', '2048.0000'],
  ])('pays for a price of %s', (price, net) => {
    expect(resultOf(collar(price), 'prices/Au/net')).toBe(net);
  });

  it('must be in order', () => {
    const price = priceOf({ kind: 'fixed', price: '2000' }, { floor: '2100', cap: '1900' });
    const terms = contract({ metals: [gold(paid('0.95'), { price })] });
    expect(checkTerms(terms).map(({ code }) => code)).toContain('floor-above-cap');
  });
});

describe('a treatment charge by grade or by price', () => {
  const charge = {
    purpose: 'treatment',
    name: 'Treatment charge',
    currency: null,
    kind: 'by-level',
    basis: 'settlement',
    unit: 'tonne',
    minimum: null,
  } as const;

  it('takes the bracket of the grade', () => {
    const settlement = work({
      charges: [
        {
          ...charge,
          level: { kind: 'grade', elements: ['Au'], unit: 'g/t' },
          ladder: {
            kind: 'bracket',
            brackets: [
              { from: '0', reachedAt: 'level', rate: '220' },
              { from: '10', reachedAt: 'level', rate: '250' },
            ],
          },
        },
      ],
    });
    expect(amountOf(settlement, 'charges/treatment')).toBe('-2500.00');
  });

  it('grows with the price of gold', () => {
    const settlement = work({
      charges: [
        {
          ...charge,
          level: { kind: 'price', metal: 'Au' },
          ladder: {
            kind: 'marginal',
            counting: 'whole-steps',
            bands: [{ from: '1500', step: '150', rate: '12.5' }],
          },
        },
      ],
    });
    // (2000 − 1500) ÷ 150 = 3.33, three whole steps × 12.50 × 10 t.
    expect(amountOf(settlement, 'charges/treatment')).toBe('-375.00');
  });
});

describe('taxes', () => {
  const tax = (more: Partial<TaxTerms>): TaxTerms => ({
    name: 'Value added tax',
    rateFrac: '0.19',
    base: { kind: 'net-value' },
    effect: 'added',
    isPassedOn: true,
    ...more,
  });
  const charges: Terms['charges'] = [
    {
      kind: 'per-mass',
      purpose: 'treatment',
      name: 'Treatment charge',
      currency: null,
      rate: '100',
      basis: 'settlement',
      unit: 'tonne',
      minimum: null,
      escalators: [],
    },
    {
      kind: 'flat',
      purpose: 'freight',
      name: 'Freight',
      currency: null,
      amount: '250',
      per: 'parcel',
      onlyBelow: null,
    },
  ];

  it('stand as lines of their own after the net value', () => {
    // 12.40 × 95 % × 10 t ÷ 31.1034768 = 3.787 ozt × 2000 = 7574.00; less 1000 and 250: net 6324.00.
    const settlement = work({
      charges,
      taxes: [
        tax({}),
        tax({ base: { kind: 'charges', purposes: ['treatment'] }, effect: 'deducted' }),
        tax({
          name: 'Withholding tax',
          rateFrac: '0.02',
          base: { kind: 'payable-value' },
          effect: 'deducted',
        }),
      ],
    });
    expect(resultOf(settlement, 'previous/net-value')).toBe('6324.00');
    expect(amountOf(settlement, 'taxes/1-value-added-tax')).toBe('1201.56');
    expect(amountOf(settlement, 'taxes/2-value-added-tax')).toBe('-190.00');
    expect(amountOf(settlement, 'taxes/3-withholding-tax')).toBe('-151.48');
    expect(resultOf(settlement, 'previous/with-taxes')).toBe('7184.08');
    expect(settlement.total).toBe('7184.08');
  });

  it('are advanced and held back with the value they are on', () => {
    const settlement = work(
      { charges, taxes: [tax({})], provisional: { shareFrac: '0.9', of: 'net-value' } },
      { stage: 'provisional' },
    );
    // (6324.00 + 1201.56) × 90 % = 6773.004.
    expect(settlement.total).toBe('6773.00');
  });

  it('count in an estimate only where they are neither passed on nor claimed back', () => {
    const net = (isPassedOn: boolean) =>
      compileEstimate(
        contract({
          metals: [gold(paid('1'))],
          charges,
          taxes: [tax({ base: { kind: 'charges', purposes: [] }, effect: 'deducted', isPassedOn })],
        }),
      )({ wetMassKg: 10_000, dryMassKg: 10_000, assays: { Au: 31.1034768 }, prices: {} }).netValue;
    expect(net(true)).toBeCloseTo(20_000 - 1250, 6);
    expect(net(false)).toBeCloseTo(20_000 - 1250 * 1.19, 6);
  });
});

describe('a parcel that the buyer may refuse', () => {
  const arsenic = {
    name: 'Arsenic',
    elements: ['As'],
    unit: 'percent',
    ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '0.2', step: '0.1', rate: '3' }] },
    basis: 'settlement',
    massUnit: 'tonne',
    refusedAbove: '0.4',
  } as const;

  it('is settled as the contract reckons it, with what was allowed for taking it', () => {
    const agreed = { name: 'Allowance for arsenic', amount: '-500.00', reason: 'letter of 3 May 2031' };
    const terms: Partial<Terms> = {
      penalties: [
        { ...arsenic, ladder: { ...arsenic.ladder, bands: [...arsenic.ladder.bands] }, elements: ['As'] },
      ],
    };
    const without = work(terms);
    expect(without.findings).toContainEqual(
      expect.objectContaining({ code: 'above-refusal-level', level: 'warning' }),
    );
    // 7574.00 less (0.5 − 0.2) ÷ 0.1 × 3 × 10 t = 90.00.
    expect(without.total).toBe('7484.00');
    const allowed = work(terms, { agreedItems: [agreed] });
    expect(lineOf(allowed, 'charges/agreed/1').working).toBe('letter of 3 May 2031: 500.00 USD');
    expect(allowed.total).toBe('6984.00');
  });

  it('pays what was agreed beyond the contract', () => {
    const demurrage = { name: 'Demurrage refunded', amount: '120.50', reason: 'two days at the gate' };
    expect(work({}, { agreedItems: [demurrage] }).total).toBe('7694.50');
  });
});

describe('a splitting limit that is a part of the grade', () => {
  const exchanged = (relativeFrac: string) =>
    work(
      {
        assays: [
          {
            ...assayRule('Au', 'g/t', 2),
            settledBy: {
              kind: 'exchange',
              splittingLimits: [{ fromGrade: '0', limit: '0.5', relativeFrac }],
              umpire: { rule: 'middle-of-three', cost: null, costBorneBy: 'shared', advancedBy: 'buyer' },
              absentPartyBound: false,
            },
          },
        ],
      },
      { assays: [{ element: 'Au', unit: 'g/t', own: '12.40', buyer: '11.80', umpire: '11.90' }] },
    );

  it('counts where it is the greater', () => {
    // 5 % of the mean of 12.10 is 0.605: 0.60 apart is within it, and the mean counts.
    expect(resultOf(exchanged('0.05'), 'assays/Au')).toBe('12.10');
    // 4 % is 0.484, so 0.5 holds: beyond it, the middle of three.
    expect(resultOf(exchanged('0.04'), 'assays/Au')).toBe('11.90');
  });
});
