import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SettlementInput } from '../../../api/calc/settlement/input.ts';
import type { Settlement } from '../../../api/calc/settlement/statement.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import { splitChange } from '../../../api/calc/settlement/split-change.ts';
import type { MetalTerms } from '../../../api/calc/terms/metal-terms.ts';
import { checkTerms } from '../../../api/calc/terms/check-terms.ts';
import { termsSentences } from '../../../api/calc/terms/terms-sentences.ts';
import { termsSchema } from '../../../api/schemas/terms.ts';
import { concentrateInput, doreInput } from './arbitrary-input.ts';
import { blockersOf, expectProvable, lineOf, resultOf } from './support.ts';

describe.each([
  ['concentrate', concentrateInput],
  ['doré', doreInput],
])('generated contracts for %s', (_material, anyInput) => {
  it('are sound: taken by the schema, without blockers, read back in sentences', () => {
    fc.assert(
      fc.property(anyInput, ({ terms }) => {
        expect(termsSchema.parse(terms)).toEqual(terms);
        expect(checkTerms(terms).filter((f) => f.level === 'blocker')).toEqual([]);
        for (const { clause, sentence } of termsSentences(terms)) {
          expect(clause).not.toBe('');
          expect(sentence).toMatch(/\.$/);
          expect(sentence).not.toMatch(/undefined|null|NaN/);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('print lines that work again from the page and add up to the total', () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const settlement = settle(input);
        expect(blockersOf(settlement)).toEqual([]);
        expectProvable(settlement, input.terms);
        const ids = settlement.lines.map((line) => line.id);
        expect(new Set(ids).size).toBe(ids.length);
      }),
      { numRuns: 600 },
    );
  });

  it('never pay for more metal than there is, nor for less than none', () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const settlement = settle(input);
        for (const metal of input.terms.metals) {
          const line = settlement.lines.find(({ id }) => id === `payable/${metal.metal}/metal`);
          if (line?.result == null) continue;
          const paid = new Decimal(line.result.value);
          const content = { ...wholly(metal), order: 'grade' as const };
          const all = settle({
            ...input,
            terms: { ...input.terms, metals: [content], charges: [], credits: [], royalties: [] },
          });
          const contained = new Decimal(resultOf(all, `payable/${metal.metal}/metal`));
          const unit = new Decimal(10).pow(-(metal.rounding ?? input.terms.rounding.payableMetal).decimals);
          expect(paid.gte(0)).toBe(true);
          // A grade rounded up may buy a little more than the content: one part in the last decimal of the grade.
          const gradeUnit = new Decimal(10).pow(-input.terms.rounding.payableGrade.decimals);
          const perGrade = gradeSlack(input, metal.metal, gradeUnit);
          expect(paid.minus(contained).lte(unit.times(2).plus(perGrade))).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('never pay less for a richer parcel, unless the terms step and the check names the step', () => {
    fc.assert(
      fc.property(anyInput, fc.integer({ min: 1, max: 200 }), (input, percent) => {
        const symbol = input.terms.metals[0]?.metal ?? '';
        // One result for all parties: otherwise a wider gap may send the richer parcel to the umpire.
        const agreed = input.assays.map((a) => ({ ...a, buyer: a.own, umpire: a.own }));
        const richer = agreed.map((a) => (a.element === symbol ? enriched(a, percent) : a));
        // A royalty on metal contained is owed even where none is payable.
        const royalties = input.terms.royalties.filter((r) => r.base.kind !== 'own-price');
        const terms = { ...input.terms, royalties };
        const poorer = settle({ ...input, terms, assays: agreed });
        const better = settle({ ...input, terms, assays: richer });
        const before = new Decimal(resultOf(poorer, 'previous/net-value'));
        const after = new Decimal(resultOf(better, 'previous/net-value'));
        const slack = new Decimal(10).pow(-input.terms.rounding.money.decimals).times(20);
        if (after.plus(slack).gte(before)) return;
        const named = checkTerms(input.terms).map((finding) => finding.code);
        const explained = named.some((code) => code === 'step-pays-less' || code === 'bracket-pays-less');
        expect(explained, changedLines(poorer, better)).toBe(true);
      }),
      { numRuns: 600 },
    );
  });

  it('come to the same from either side of the table', () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const selling = input.terms.direction === 'we-sell';
        const otherSide: SettlementInput = {
          ...input,
          terms: { ...input.terms, direction: selling ? 'we-buy' : 'we-sell' },
          assays: input.assays.map((a) => ({ ...a, own: a.buyer, buyer: a.own })),
        };
        expect(settle(otherSide).total).toBe(settle(input).total);
      }),
      { numRuns: 150 },
    );
  });

  it('pay provisionally, again, and finally the net value in all', () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const early = input.assays.map((a) => ({ ...a, buyer: null, umpire: null }));
        const first = settle({ ...input, stage: 'provisional', assays: early });
        expect(blockersOf(first)).toEqual([]);
        expectProvable(first, input.terms);
        const paidFirst = [{ statementNumber: '1', amount: first.total }];
        const second = settle({ ...input, stage: 'second-provisional', previouslyPaid: paidFirst });
        expectProvable(second, input.terms);
        const paid = [...paidFirst, { statementNumber: '2', amount: second.total }];
        const last = settle({ ...input, previouslyPaid: paid });
        expectProvable(last, input.terms);
        const inAll = new Decimal(first.total).plus(second.total).plus(last.total);
        const worth = last.lines.find(({ id }) => id === 'previous/with-taxes');
        const inWhole = worth ?? lineOf(last, 'previous/net-value');
        expect(inAll.toFixed(last.moneyDecimals)).toBe(inWhole.result?.value);
      }),
      { numRuns: 150 },
    );
  });

  it('split the change from provisional to final into parts that add up', () => {
    fc.assert(
      fc.property(anyInput, anyInput, (input, other) => {
        const previous: SettlementInput = {
          ...input,
          stage: 'provisional',
          assays: input.assays.map((a) => ({ ...a, buyer: null, umpire: null })),
        };
        const pieces = (i: SettlementInput) =>
          (i.parcel.kind === 'dore' ? i.parcel.bars : i.parcel.sublots).length;
        const parcel = pieces(other) === pieces(input) ? other.parcel : input.parcel;
        const next = { ...input, parcel };
        const change = splitChange({ previous, next });
        expect(change).not.toBeNull();
        if (change === null) return;
        const parts = [change.massEffect, change.assayEffect, change.priceEffect, change.otherEffect];
        const sum = parts.reduce((total, part) => total.plus(part), new Decimal(0));
        expect(sum.eq(change.total)).toBe(true);
        expect(new Decimal(change.priceEffect).isZero()).toBe(true);
        const expected = new Decimal(netValue(next)).minus(netValue(previous));
        expect(new Decimal(change.total).eq(expected)).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});

const wholeAssay = { kind: 'unit-then-percent' as const, paidFrac: '1', deduction: '0' };

/** All of the metal, whatever its grade. */
const wholly = (metal: MetalTerms): MetalTerms => ({
  ...metal,
  form: wholeAssay,
  minimumGrade: null,
  // Nothing is left out: the least deduction would make less of the metal than there is.
  minimumDeduction: null,
  price: { ...metal.price, basis: { kind: 'fixed', price: '1' } },
});

function netValue(input: SettlementInput): string {
  return lineOf(settle(input), 'previous/net-value').result?.value ?? '';
}

function changedLines(before: Settlement, after: Settlement): string {
  const workings = new Map(before.lines.map((line) => [line.id, line.working]));
  return after.lines
    .filter((line) => workings.get(line.id) !== line.working)
    .map((line) => `${line.id}: ${workings.get(line.id) ?? ''} → ${line.working}`)
    .join('\n');
}

function enriched(assay: SettlementInput['assays'][number], percent: number): typeof assay {
  const up = (result: string | null) =>
    result === null ? null : new Decimal(result).times(1 + percent / 100).toFixed(6);
  return { ...assay, own: up(assay.own), buyer: up(assay.buyer), umpire: up(assay.umpire) };
}

/** Metal that one unit in the last decimal of the grade makes in this parcel. */
function gradeSlack(input: SettlementInput, symbol: string, gradeUnit: Decimal): Decimal {
  const rule = input.terms.assays.find((r) => r.element === symbol);
  if (rule === undefined) return new Decimal(0);
  const metals = input.terms.metals
    .filter((m) => m.metal === symbol)
    .map((m) => ({
      ...wholly(m),
      order: 'grade' as const,
      rounding: { decimals: 12, rule: 'half-up' as const, multipleOf: null },
    }));
  const all = gradeUnit.toFixed();
  const settlement = settle({
    ...input,
    terms: {
      ...input.terms,
      assays: [
        {
          ...rule,
          rounding: { decimals: 12, rule: 'half-up', multipleOf: null },
          settledBy: { kind: 'seller' },
        },
      ],
      metals,
      charges: [],
      penalties: [],
      credits: [],
      royalties: [],
      direction: 'we-sell',
    },
    assays: [{ element: symbol, unit: rule.unit, own: all, buyer: null, umpire: null }],
  });
  return new Decimal(resultOf(settlement, `payable/${symbol}/metal`));
}
