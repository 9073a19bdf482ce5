import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { payableOf } from '../../../api/calc/terms/payable-form.ts';

type PayableForm = Parameters<typeof payableOf>[0]['form'];

const paid = (form: PayableForm, assay: string) =>
  payableOf({ form, amount: assay, grade: assay, perGrade: (level) => level });

describe('payable forms', () => {
  const lesser = (paidFrac: string, deduction: string): PayableForm => ({
    kind: 'lesser-of',
    paidFrac,
    deduction,
  });

  // Published customary terms; the crossovers d ÷ (1 − p) are derived.
  it.each([
    ['Pb', '0.95', '3', '60'],
    ['Zn', '0.85', '8', '53.333333'],
    ['Cu', '0.965', '1', '28.571429'],
    ['Ag', '0.95', '50', '1000'],
    ['Au', '0.97', '1', '33.333333'],
  ])('%s at %s less %s crosses over at %s', (_metal, p, d, crossover) => {
    const below = (Number(crossover) - 0.01).toFixed(6);
    const above = (Number(crossover) + 0.01).toFixed(6);
    expect(paid(lesser(p, d), below).value.toNumber()).toBeCloseTo(Number(below) - Number(d), 9);
    expect(paid(lesser(p, d), above).value.toNumber()).toBeCloseTo(Number(above) * Number(p), 9);
  });

  it.each([
    ['0.85', '8', '52', '44'],
    ['0.95', '3', '50', '47'],
    ['0.95', '3', '70', '66.5'],
  ])('pays lesser of %s and less %s units of %s %%: %s', (p, d, assay, payable) => {
    expect(paid(lesser(p, d), assay).value.toFixed()).toBe(payable);
  });

  it('tells unit-then-percent from percent-then-unit', () => {
    const parts = { paidFrac: '0.90', deduction: '5' };
    expect(paid({ kind: 'unit-then-percent', ...parts }, '9').value.toFixed()).toBe('3.6');
    expect(paid({ kind: 'percent-then-unit', ...parts }, '9').value.toFixed()).toBe('3.1');
    expect(paid({ kind: 'lesser-of', ...parts }, '9').value.toFixed()).toBe('4');
  });

  it('never pays less than nothing, and shows that it does not', () => {
    for (const kind of ['lesser-of', 'unit-then-percent', 'percent-then-unit'] as const) {
      const { value, expression } = paid({ kind, paidFrac: '0.9', deduction: '2' }, '1.5');
      expect(value.isZero()).toBe(true);
      expect(expression).toMatch(/^greater of 0 and/);
    }
  });

  it('chooses the step that the assay reaches, the level included', () => {
    const form: PayableForm = {
      kind: 'steps',
      steps: [
        { fromGrade: '3', form: { kind: 'unit-then-percent', paidFrac: '0.90', deduction: '0' } },
        { fromGrade: '30', form: { kind: 'unit-then-percent', paidFrac: '0.95', deduction: '0' } },
      ],
    };
    expect(paid(form, '2.99').value.toFixed()).toBe('0');
    expect(paid(form, '3').value.toFixed()).toBe('2.7');
    expect(paid(form, '29.99').value.toFixed()).toBe('26.991');
    expect(paid(form, '30').value.toFixed()).toBe('28.5');
  });

  it('pays each band at its own rate', () => {
    const form: PayableForm = {
      kind: 'bands',
      bands: [
        { fromGrade: '1', paidFrac: '0.5' },
        { fromGrade: '10', paidFrac: '0.9' },
      ],
    };
    expect(paid(form, '1').value.toFixed()).toBe('0');
    expect(paid(form, '10').value.toFixed()).toBe('4.5');
    expect(paid(form, '20').value.toFixed()).toBe('13.5');
    expect(paid(form, '20').expression).toBe('(10 − 1) × 50 % + (20 − 10) × 90 %');
  });

  it('lies between nothing and all for every assay', () => {
    const decimal = (high: number) =>
      fc.integer({ min: 0, max: high * 100 }).map((n) => (n / 100).toFixed(2));
    fc.assert(
      fc.property(
        fc.constantFrom('lesser-of' as const, 'unit-then-percent' as const, 'percent-then-unit' as const),
        decimal(1),
        decimal(20),
        decimal(100),
        (kind, paidFrac, deduction, assay) => {
          const { value } = paid({ kind, paidFrac, deduction }, assay);
          expect(value.gte(0) && value.lte(assay)).toBe(true);
        },
      ),
    );
  });
});
