import { describe, expect, it } from 'vitest';
import { compareStatement, type TheirLine } from '../../../api/calc/settlement/compare-statement.ts';
import type { SettlementInput } from '../../../api/calc/settlement/input.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import type { Penalty } from '../../../api/calc/terms/charge-terms.ts';
import type { QuotedOption } from '../../../api/calc/terms/metal-terms.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { assay, assayRule, blockersOf, metal, NO_DATES } from './support.ts';

/** An invented contract with the clauses that a few buyers have: options, prices by grade, a charge by mass, taxes. */
const start = startingTerms({ title: 'An invented contract', material: 'concentrate' });
const all = { kind: 'unit-then-percent', paidFrac: '0.9', deduction: '0' } as const;

const option = (source: string, paidFrac: string): QuotedOption => ({
  kind: 'quotations',
  source,
  period: { kind: 'calendar-month', event: 'arrival', monthsAfter: 1 },
  provisional: { kind: 'latest' },
  paidFrac,
});
const penalty = (element: string, from: string, step: string, rate: string): Penalty => ({
  name: element,
  elements: [element],
  unit: 'percent',
  ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from, step, rate }] },
  basis: 'dry',
  massUnit: 'tonne',
  refusedAbove: null,
});
const weighed = (grossKg: string, moistureFrac: string): SettlementInput['parcel'] => ({
  kind: 'concentrate',
  sublots: [{ name: 'Lot', grossKg, tareKg: '120', moistureFrac }],
});
const gold = metal('Au', 'ozt', '0', all, { minimumDeduction: '5' });
const silver = metal('Ag', 'g', '0', all);

const terms: Terms = {
  ...start,
  weights: { kind: 'dry', unit: 'kg', franchiseFrac: '0' },
  assays: [
    assayRule('Au', 'g/t', 2),
    assayRule('Ag', 'g/t', 0),
    ...['As', 'Sb', 'Bi'].map((element) => assayRule(element, 'percent', 3)),
  ],
  metals: [
    {
      ...gold,
      price: {
        ...gold.price,
        basis: {
          kind: 'choice',
          rule: 'lowest',
          options: [option('morning price', '1'), option('afternoon price', '0.99')],
        },
      },
    },
    {
      ...silver,
      price: {
        ...silver.price,
        basis: {
          kind: 'by-grade',
          steps: [
            { fromGrade: '100', price: '0.5' },
            { fromGrade: '200', price: '0.7' },
          ],
        },
      },
    },
  ],
  charges: [
    {
      kind: 'by-level',
      purpose: 'treatment',
      name: 'Treatment',
      currency: null,
      level: { kind: 'mass', basis: 'wet', unit: 'tonne' },
      ladder: {
        kind: 'bracket',
        brackets: [
          { from: '0', reachedAt: 'level', rate: '300' },
          { from: '10', reachedAt: 'level', rate: '260' },
        ],
      },
      basis: 'dry',
      unit: 'tonne',
      minimum: null,
    },
    {
      kind: 'per-mass',
      purpose: 'freight',
      name: 'Freight',
      currency: null,
      rate: '40',
      basis: 'wet',
      unit: 'tonne',
      minimum: null,
      escalators: [],
    },
  ],
  penalties: [
    penalty('As', '0.2', '0.1', '2'),
    penalty('Sb', '0.1', '0.1', '3'),
    penalty('Bi', '0.05', '0.01', '1'),
  ],
  taxes: [
    {
      name: 'Withholding tax',
      rateFrac: '0.02',
      base: { kind: 'net-value' },
      effect: 'deducted',
      isPassedOn: false,
    },
  ],
};

const input: SettlementInput = {
  terms,
  stage: 'final',
  parcel: weighed('9120', '0.08'),
  assays: [
    assay('Au', 'g/t', '42.5'),
    assay('Ag', 'g/t', '190'),
    assay('As', 'percent', '0.57'),
    assay('Sb', 'percent', '0.44'),
    assay('Bi', 'percent', '0.085'),
  ],
  prices: [
    {
      metal: 'Au',
      price: null,
      basis: '',
      quotations: [],
      options: [
        { option: 0, price: '2410.00', basis: 'as typed' },
        { option: 1, price: '2430.00', basis: 'as typed' },
      ],
    },
  ],
  dates: NO_DATES,
  previouslyPaid: [],
  agreedItems: [{ name: 'Demurrage', amount: '-180.00', reason: 'two days' }],
};

function compared(theirs: SettlementInput, printed: string[] = []) {
  const settlement = settle(theirs);
  expect(blockersOf(settlement)).toEqual([]);
  const lines = settlement.lines
    .filter((line) => line.amount !== null || printed.includes(line.id))
    .map(({ id, label, amount, result }): TheirLine => ({
      id,
      label,
      amount,
      result: amount === null ? (result?.value ?? null) : null,
    }));
  const comparison = compareStatement({ input, theirs: lines, theirTotal: settlement.total });
  expect(comparison.unexplained).toBe('0.00');
  return comparison;
}

const changed = (parts: Partial<Terms>): SettlementInput => ({ ...input, terms: { ...terms, ...parts } });
const inWholeSteps = terms.penalties.map((one): Penalty => ({
  ...one,
  ladder: { ...one.ladder, counting: 'whole-steps' } as Penalty['ladder'],
}));
describe('one cause of several lines', () => {
  it('is named once: whole steps of all penalties', () => {
    const { causes } = compared(changed({ penalties: inWholeSteps }));
    expect(causes).toHaveLength(1);
    expect(causes[0]?.sentence).toBe('They count all penalties by whole steps only.');
    expect(causes[0]?.lines).toEqual(
      expect.arrayContaining(['penalties/As', 'penalties/Sb', 'penalties/Bi', 'total/total']),
    );
  });

  it('is named once: a wet mass mistyped, which moves every line', () => {
    const { causes } = compared({ ...input, parcel: weighed('9210', '0.08') });
    expect(causes).toHaveLength(1);
    expect([causes[0]?.sentence, ...(causes[0]?.alternatives ?? [])].join(' ')).toContain(
      'Their wet mass is 9,090 kg, ours 9,000 kg',
    );
  });

  it('is the mass that they print', () => {
    const { causes } = compared({ ...input, parcel: weighed('9210', '0.08') }, ['weights/wet']);
    expect(causes.map(({ code }) => code)).toEqual(['their-mass']);
  });

  it('is named once: charges and penalties all on the wet mass', () => {
    const { causes } = compared(
      changed({
        charges: terms.charges.map((one) => ({ ...one, basis: 'wet' as const })),
        penalties: terms.penalties.map((one) => ({ ...one, basis: 'wet' as const })),
      }),
    );
    expect(causes.map(({ sentence }) => sentence)).toEqual([
      'They reckon all charges and penalties on the wet mass.',
    ]);
  });

  it('is taken apart from others: another moisture, whole steps, and the higher price', () => {
    const theirs = { ...input, parcel: weighed('9120', '0.0925') };
    const { causes } = compared({
      ...theirs,
      terms: { ...terms, penalties: inWholeSteps, metals: higherGold() },
    });
    expect(causes.map(({ code }) => code).toSorted()).toEqual([
      'other-moisture',
      'other-price-option',
      'other-step-counting',
    ]);
  });
});

const higherGold = () =>
  terms.metals.map((one) => {
    const { basis } = one.price;
    if (basis.kind !== 'choice') return one;
    return { ...one, price: { ...one.price, basis: { ...basis, rule: 'highest' as const } } };
  });

describe('the further clauses read otherwise', () => {
  it.each<[string, SettlementInput, RegExp]>([
    ['other-price-option', changed({ metals: higherGold() }), /option 1/],
    [
      'minimum-deduction-left-out',
      changed({ metals: terms.metals.map((one) => ({ ...one, minimumDeduction: null })) }),
      /least deduction of Au/,
    ],
    [
      'other-price-step',
      changed({
        metals: terms.metals.map((one) =>
          one.metal === 'Ag'
            ? { ...one, price: { ...one.price, basis: { kind: 'fixed', price: '0.7' } } }
            : one,
        ),
      }),
      /step from 200, 0\.7/,
    ],
    [
      'other-bracket',
      changed({
        charges: terms.charges.map((one) =>
          one.kind === 'by-level' && one.ladder.kind === 'bracket'
            ? {
                ...one,
                ladder: {
                  ...one.ladder,
                  brackets: one.ladder.brackets.slice(1).map((b) => ({ ...b, from: '0' })),
                },
              }
            : one,
        ),
      }),
      /bracket from 10/,
    ],
    ['tax-left-out', changed({ taxes: [] }), /Withholding tax/],
    ['agreed-item-left-out', { ...input, agreedItems: [] }, /Demurrage/],
  ])('gives %s', (code, theirs, words) => {
    const { causes } = compared(theirs);
    expect(causes.map((cause) => cause.code)).toEqual([code]);
    expect(causes[0]?.sentence).toMatch(words);
  });
});
