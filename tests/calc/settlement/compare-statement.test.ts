import { Decimal } from 'decimal.js';
import { describe, expect, it } from 'vitest';
import { halfUp } from '../../../api/calc/rounding.ts';
import {
  comparedInSteps,
  compareStatement,
  type TheirLine,
} from '../../../api/calc/settlement/compare-statement.ts';
import type { SettlementInput } from '../../../api/calc/settlement/input.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { assayRule, blockersOf, metal, NO_DATES } from './support.ts';

const start = startingTerms({ title: 'An invented contract', material: 'concentrate' });

const exchanged = (element: string, unit: 'g/t' | 'percent', decimals: number, limit: string) => ({
  ...assayRule(element, unit, decimals),
  settledBy: {
    kind: 'exchange' as const,
    splittingLimits: [{ fromGrade: '0', limit }],
    umpire: {
      rule: 'mean-of-umpire-and-nearer' as const,
      cost: null,
      costBorneBy: 'further-party' as const,
      advancedBy: 'buyer' as const,
    },
    absentPartyBound: true,
  },
});

const terms: Terms = {
  ...start,
  weights: { kind: 'dry', unit: 'kg', franchiseFrac: '0.005' },
  assays: [exchanged('Au', 'g/t', 2, '0.5'), exchanged('Ag', 'g/t', 0, '15'), assayRule('As', 'percent', 2)],
  metals: [
    metal(
      'Au',
      'ozt',
      '0',
      { kind: 'lesser-of', paidFrac: '0.95', deduction: '1' },
      {
        price: {
          unit: 'ozt',
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
        refining: { kind: 'per-payable-unit', rate: '8', escalators: [] },
      },
    ),
    metal('Ag', 'ozt', '31.25', { kind: 'unit-then-percent', paidFrac: '0.90', deduction: '40' }),
  ],
  charges: [
    {
      kind: 'per-mass',
      purpose: 'treatment',
      name: 'Treatment charge',
      currency: null,
      rate: '240',
      basis: 'settlement',
      unit: 'tonne',
      minimum: null,
      escalators: [],
    },
    {
      kind: 'per-mass',
      purpose: 'freight',
      name: 'Freight',
      currency: null,
      rate: '55',
      basis: 'wet',
      unit: 'tonne',
      minimum: null,
      escalators: [],
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
    {
      name: 'Arsenic',
      elements: ['As'],
      unit: 'percent',
      ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '0.2', step: '0.1', rate: '2.50' }] },
      basis: 'settlement',
      massUnit: 'tonne',
      refusedAbove: null,
    },
  ],
};

/** Weekday quotations of spring 2026, invented: rising by a dollar and a quarter a day. */
const quotations = Array.from({ length: 91 }, (_, day) => {
  const date = new Date(Date.UTC(2026, 3, 1 + day));
  return { date, price: (3000 + 1.25 * day).toFixed(2) };
})
  .filter(({ date }) => date.getUTCDay() % 6 !== 0)
  .map(({ date, price }) => ({ date: date.toISOString().slice(0, 10), price }));

const input: SettlementInput = {
  terms,
  stage: 'final',
  parcel: {
    kind: 'concentrate',
    sublots: [{ name: 'Lot', grossKg: '9120', tareKg: '120', moistureFrac: '0.0800' }],
  },
  assays: [
    { element: 'Au', unit: 'g/t', own: '48.20', buyer: '47.90', umpire: null },
    { element: 'Ag', unit: 'g/t', own: '620', buyer: '612', umpire: null },
    { element: 'As', unit: 'percent', own: null, buyer: '0.57', umpire: null },
  ],
  prices: [{ metal: 'Au', price: null, basis: 'invented', quotations }],
  dates: { ...NO_DATES, shippedOn: '2026-03-28', arrivedOn: '2026-04-10', statementOn: '2026-06-29' },
  previouslyPaid: [],
};

/** Their statement as it would come in: money lines only, or with the figures they print. */
function statementOf(
  theirs: SettlementInput,
  printed: string[] = [],
): { theirs: TheirLine[]; theirTotal: string } {
  const settlement = settle(theirs);
  expect(blockersOf(settlement)).toEqual([]);
  return {
    theirTotal: settlement.total,
    theirs: settlement.lines
      .filter((line) => line.amount !== null || printed.includes(line.id))
      .map(({ id, label, amount, result }) => ({
        id,
        label,
        amount,
        result: amount === null ? (result?.value ?? null) : null,
      })),
  };
}

function withTerms(changed: Partial<Terms>): SettlementInput {
  return { ...input, terms: { ...terms, ...changed } };
}

function expectExplained(theirs: SettlementInput, code: string, words: RegExp, printed: string[] = []) {
  const comparison = compareStatement({ input, ...statementOf(theirs, printed) });
  expect(comparison.causes.map((cause) => cause.code)).toEqual([code]);
  const [cause] = comparison.causes;
  expect([cause?.sentence, ...(cause?.alternatives ?? [])].join(' ')).toMatch(words);
  expect(comparison.unexplained).toBe('0.00');
  expect(cause?.moneyEffect).toBe(comparison.difference);
  expect(new Decimal(comparison.difference).isZero()).toBe(false);
}

describe('their statement held against ours', () => {
  it('finds nothing where both are the same', () => {
    const comparison = compareStatement({ input, ...statementOf(input) });
    expect(comparison.causes).toEqual([]);
    expect(comparison.findings).toEqual([]);
    expect(comparison.difference).toBe('0.00');
    expect(comparison.lines.every((line) => line.difference === '0')).toBe(true);
  });

  it('is worked in a step for each settlement that is tried, so that others have their turn', () => {
    const held = { input, ...statementOf(withTerms({ charges: [], penalties: [] })) };
    const work = comparedInSteps(held);
    let steps = 0;
    let step = work.next();
    for (; step.done !== true; step = work.next()) steps += 1;
    expect(steps).toBeGreaterThan(50);
    expect(step.value).toEqual(compareStatement(held));
  });

  it('names another moisture, solved from the money alone', () => {
    const wetter: SettlementInput = {
      ...input,
      parcel: {
        kind: 'concentrate',
        sublots: [{ name: 'Lot', grossKg: '9120', tareKg: '120', moistureFrac: '0.0837' }],
      },
    };
    expectExplained(wetter, 'other-moisture', /8\.37 %, ours 8 %/);
  });

  it('names one party’s assay in place of the exchange', () => {
    const theirs = withTerms({ assays: [assayRule('Au', 'g/t', 2), ...terms.assays.slice(1)] });
    expectExplained(theirs, 'assay-of-one-party', /Au is taken at the buyer's own result/);
  });

  it('names an assay that nobody reported', () => {
    const assays = input.assays.map((a) => (a.element === 'Ag' ? { ...a, own: '609', buyer: '609' } : a));
    expectExplained({ ...input, assays }, 'other-assay', /Ag is 609 g\/t, ours 616/);
  });

  it('takes the assay that they print', () => {
    const assays = input.assays.map((a) => (a.element === 'Ag' ? { ...a, own: '609', buyer: '609' } : a));
    expectExplained({ ...input, assays }, 'their-assay', /Ag is 609, ours 616/, ['assays/Ag']);
  });

  it('names the conversion factor', () => {
    const theirs = withTerms({ factors: { ...terms.factors, ounceG: '31.1' } });
    expectExplained(theirs, 'other-factor', /31\.1, the contract with 31\.1034768/);
  });

  it('names the rounding', () => {
    const theirs = withTerms({ rounding: { ...terms.rounding, payableMetal: halfUp(1) } });
    expectExplained(theirs, 'other-rounding', /payable metal to 1 decimal/);
  });

  it('names the quotational period', () => {
    const basis = terms.metals[0]?.price.basis;
    if (basis?.kind !== 'quotations') throw new Error('the contract is priced by quotations');
    const period = { kind: 'calendar-month' as const, event: 'arrival' as const, monthsAfter: 0 };
    const metals = terms.metals.map((m) =>
      m.metal === 'Au' ? { ...m, price: { ...m.price, basis: { ...basis, period } } } : m,
    );
    expectExplained(withTerms({ metals }), 'other-quotational-period', /calendar month of arrival/);
  });

  it('names a price out of the air', () => {
    const metals = terms.metals.map((m) =>
      m.metal === 'Ag'
        ? { ...m, price: { ...m.price, basis: { kind: 'fixed' as const, price: '31.02' } } }
        : m,
    );
    expectExplained(withTerms({ metals }), 'other-price', /Ag is 31\.02, ours 31\.25/);
  });

  it('names whole steps in place of pro rata', () => {
    const penalties = terms.penalties.map((p) => ({
      ...p,
      ladder: { ...p.ladder, counting: 'started-steps' as const } as typeof p.ladder,
    }));
    expectExplained(withTerms({ penalties }), 'other-step-counting', /Arsenic by started steps/);
  });

  it('names the payable form', () => {
    const metals = terms.metals.map((m) =>
      m.metal === 'Ag'
        ? { ...m, form: { kind: 'percent-then-unit' as const, paidFrac: '0.90', deduction: '40' } }
        : m,
    );
    expectExplained(withTerms({ metals }), 'other-payable-form', /Ag they take the percentage first/);
  });

  it('names the mass that freight is charged on', () => {
    const charges = terms.charges.map((c) =>
      c.purpose === 'freight' && c.kind === 'per-mass' ? { ...c, basis: 'gross' as const } : c,
    );
    expectExplained(withTerms({ charges }), 'other-mass-basis', /gross mass, the contract on the wet mass/);
  });

  it('names a franchise taken that was not agreed', () => {
    expectExplained(
      withTerms({ weights: { kind: 'dry', unit: 'kg', franchiseFrac: '0.01' } }),
      'other-franchise',
      /franchise of 1 %, the contract 0\.5 %/,
    );
  });

  it('takes two causes apart and gives each its money', () => {
    const charges = terms.charges.map((c) =>
      c.purpose === 'freight' && c.kind === 'per-mass' ? { ...c, basis: 'gross' as const } : c,
    );
    const penalties = terms.penalties.map((p) => ({
      ...p,
      ladder: { ...p.ladder, counting: 'started-steps' as const } as typeof p.ladder,
    }));
    const comparison = compareStatement({ input, ...statementOf(withTerms({ charges, penalties })) });
    expect(comparison.causes.map((cause) => cause.code).sort()).toEqual([
      'other-mass-basis',
      'other-step-counting',
    ]);
    const effects = comparison.causes.reduce((sum, cause) => sum.plus(cause.moneyEffect), new Decimal(0));
    expect(effects.toFixed(2)).toBe(comparison.difference);
    expect(comparison.unexplained).toBe('0.00');
  });

  it('leaves a mistyped line unexplained, and says by how much', () => {
    const { theirs } = statementOf(input);
    const slipped = theirs.map((line) =>
      line.id === 'charges/insurance'
        ? { ...line, amount: new Decimal(line.amount ?? 0).minus('137.13').toFixed(2) }
        : line,
    );
    const theirTotal = new Decimal(settle(input).total).minus('137.13').toFixed(2);
    const comparison = compareStatement({ input, theirs: slipped, theirTotal });
    expect(comparison.causes).toEqual([]);
    expect(comparison.unexplained).toBe('-137.13');
    const row = comparison.lines.find((line) => line.id === 'charges/insurance');
    expect(row).toMatchObject({ difference: '-137.13', cause: null, money: true });
  });

  it('says that their lines do not add up, and what we do not have', () => {
    const { theirs, theirTotal } = statementOf(input);
    const more: TheirLine = { id: null, label: 'Weighbridge fee', amount: '-35.00', result: null };
    const comparison = compareStatement({ input, theirs: [...theirs, more], theirTotal });
    expect(comparison.findings.map((f) => f.code)).toEqual(['line-not-on-ours', 'their-lines-do-not-add-up']);
  });

  it('lists our money lines that they leave out', () => {
    const { theirs } = statementOf(input);
    const some = theirs.filter((line) => line.id !== 'penalties/As');
    const theirTotal = some.reduce((sum, line) => sum.plus(line.amount ?? 0), new Decimal(0)).toFixed(2);
    const comparison = compareStatement({ input, theirs: some, theirTotal });
    expect(comparison.lines.at(-1)).toMatchObject({ id: 'penalties/As', theirs: null });
    expect(comparison.causes.map((cause) => cause.code)).toEqual(['penalty-left-out']);
    expect(comparison.unexplained).toBe('0.00');
  });

  it('works the lines that a cause explains again, before and after', () => {
    const wetter: SettlementInput = {
      ...input,
      parcel: {
        kind: 'concentrate',
        sublots: [{ name: 'Lot', grossKg: '9120', tareKg: '120', moistureFrac: '0.0837' }],
      },
    };
    const theirs = statementOf(wetter);
    const [cause] = compareStatement({ input, ...theirs }).causes;
    const [ours, again] = [settle(input), settle(wetter)].map(
      ({ lines }) => new Map(lines.map((l) => [l.id, l])),
    );
    expect(cause?.reworked.map(({ id }) => id)).toEqual(cause?.lines);
    for (const { id, before, after } of cause?.reworked ?? []) {
      expect(before).toBe(ours?.get(id)?.amount ?? ours?.get(id)?.result?.value);
      expect(after).toBe(again?.get(id)?.amount ?? again?.get(id)?.result?.value);
    }
    expect(cause?.totalAfter).toBe(theirs.theirTotal);
    expect(cause?.reworked.find(({ id }) => id === 'charges/treatment')).toMatchObject({ unit: 'USD' });
  });

  it('names the range of moistures where rounded masses leave more than one, and the roundest of them', () => {
    const small = (moistureFrac: string): SettlementInput => ({
      ...input,
      terms: { ...terms, rounding: { ...terms.rounding, mass: halfUp(0) } },
      parcel: {
        kind: 'concentrate',
        sublots: [{ name: 'Drum', grossKg: '212', tareKg: '12', moistureFrac }],
      },
    });
    const theirs = statementOf(small('0.0612'));
    const [cause] = compareStatement({ input: small('0.0400'), ...theirs }).causes;
    // 200 kg × (1 − 6.12 %) = 187.76, printed 188 kg, as is all from 188.48 (5.76 %) to 187.50 (6.25 %, halves up).
    expect(cause?.sentence).toBe('Their moisture is 6 %, ours 4 %; any from 5.76 to 6.25 % gives the same.');
    for (const moistureFrac of ['0.0576', '0.0625'])
      expect(settle(small(moistureFrac)).total).toBe(theirs.theirTotal);
    for (const moistureFrac of ['0.0575', '0.0626'])
      expect(settle(small(moistureFrac)).total).not.toBe(theirs.theirTotal);
  });

  it('adds up lines of theirs that answer to one of ours', () => {
    const { theirs, theirTotal } = statementOf(input);
    const parted = theirs.flatMap((line) =>
      line.id === 'charges/freight'
        ? [
            { ...line, label: 'Road', amount: new Decimal(line.amount ?? 0).plus('100').toFixed(2) },
            { ...line, label: 'Harbour', amount: '-100.00' },
          ]
        : [line],
    );
    const comparison = compareStatement({ input, theirs: parted, theirTotal });
    expect(comparison.lines.filter((line) => line.id === 'charges/freight')).toMatchObject([
      { difference: '0' },
    ]);
    expect(comparison.findings).toEqual([]);
  });

  it('finds the lines of ours that one of theirs takes together', () => {
    const { theirs, theirTotal } = statementOf(input);
    const amountOf = (id: string) => theirs.find((line) => line.id === id)?.amount ?? '';
    const deductions = ['charges/treatment', 'charges/freight', 'penalties/As'];
    const sum = deductions.reduce((total, id) => total.plus(amountOf(id)), new Decimal(0)).toFixed(2);
    const lumped = [
      ...theirs.filter(({ id }) => !deductions.includes(id ?? '')),
      { id: 'charges/treatment', label: 'Deductions', amount: sum, result: null },
    ];
    const comparison = compareStatement({ input, theirs: lumped, theirTotal });
    expect(comparison.findings.map((f) => [f.code, f.level])).toEqual([['taken-together', 'note']]);
    expect(comparison.findings[0]?.sentence).toContain('Treatment charge, Freight and Arsenic together');
    expect(comparison.lines.find((line) => line.id === 'charges/treatment')).toMatchObject({
      label: 'Treatment charge + Freight + Arsenic',
      ours: sum,
      difference: '0',
    });
    expect(comparison.lines.every((line) => line.theirs !== null)).toBe(true);
    expect(comparison.causes).toEqual([]);
  });

  it('warns of a deduction entered without its minus sign', () => {
    const { theirs, theirTotal } = statementOf(input);
    const slipped = theirs.map((line) =>
      line.id === 'charges/freight' ? { ...line, amount: (line.amount ?? '').replace('-', '') } : line,
    );
    const { findings } = compareStatement({ input, theirs: slipped, theirTotal });
    expect(findings.map((f) => f.code)).toEqual(['sign-other-than-ours', 'their-lines-do-not-add-up']);
    expect(findings[0]?.sentence).toBe(
      '“Freight” is entered as 495.00 USD, ours is −495.00 USD: a deduction takes a minus sign.',
    );
  });

  it('is not held against a settlement of ours that is not complete', () => {
    const comparison = compareStatement({
      input: { ...input, assays: [] },
      theirs: [],
      theirTotal: '100.00',
    });
    expect(comparison.findings.map((f) => f.code)).toContain('ours-not-complete');
    expect(comparison.causes).toEqual([]);
  });
});
