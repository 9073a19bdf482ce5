import { halfUp } from '../../../api/calc/rounding.ts';
import type { AssayRule } from '../../../api/calc/terms/assay-terms.ts';
import type { Penalty, PerMassCharge } from '../../../api/calc/terms/charge-terms.ts';
import type { MetalTerms, PriceTerms } from '../../../api/calc/terms/metal-terms.ts';
import { startingTerms, USUAL_ROUNDING } from '../../../api/calc/terms/starting-terms.ts';
import type { GradeUnit, MassBasis, MassUnit } from '../../../api/calc/terms/term-units.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';

/**
 * Contracts to start from. The figures are of the size that is usual for small
 * parcels (common practice, from memory); the buyer's own go before them, clause by clause.
 */

export function exchangedAssay(element: string, unit: GradeUnit, decimals: number, limit: string): AssayRule {
  return {
    element,
    unit,
    rounding: halfUp(decimals),
    settledBy: {
      kind: 'exchange',
      splittingLimits: [{ fromGrade: '0', limit }],
      umpire: { rule: 'middle-of-three', cost: null, costBorneBy: 'further-party', advancedBy: 'buyer' },
      absentPartyBound: false,
    },
  };
}

const monthAfterArrival: PriceTerms = {
  unit: 'ozt',
  currency: null,
  basis: {
    kind: 'quotations',
    source: 'daily quotation named in the contract',
    period: { kind: 'calendar-month', event: 'arrival', monthsAfter: 1 },
    provisional: { kind: 'latest' },
  },
  paidFrac: '1',
  reduction: '0',
};

const daysAfterMelting: PriceTerms = {
  ...monthAfterArrival,
  basis: {
    kind: 'quotations',
    source: 'daily quotation named in the contract',
    period: { kind: 'business-days', event: 'melting', from: 1, to: 3, holidays: [] },
    provisional: { kind: 'latest' },
  },
};

/** What is paid for a metal; an empty figure has to be filled in. */
export function newMetal(metal: string, isDore: boolean): MetalTerms {
  return {
    metal,
    form: isDore
      ? { kind: 'percent-then-unit', paidFrac: '', deduction: '0' }
      : { kind: 'lesser-of', paidFrac: '', deduction: '' },
    minimumGrade: null,
    order: isDore ? 'content' : 'grade',
    price: isDore ? daysAfterMelting : monthAfterArrival,
    refining: null,
    rounding: null,
  };
}

export function newCharge(basis: MassBasis, unit: MassUnit): PerMassCharge {
  return {
    kind: 'per-mass',
    purpose: 'treatment',
    name: '',
    currency: null,
    rate: '',
    basis,
    unit,
    minimum: null,
    escalators: [],
  };
}

export function newPenalty(massUnit: MassUnit): Penalty {
  return {
    name: '',
    elements: [],
    unit: 'percent',
    ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '', step: '', rate: '' }] },
    basis: 'settlement',
    massUnit,
    refusedAbove: null,
  };
}

function concentrate(currency: string): Terms {
  return {
    ...startingTerms({ title: 'Sale of concentrate', material: 'concentrate' }),
    currency,
    // Parcels of a small mill are a few hundred kilograms: whole ones would cost half a per cent.
    rounding: { ...USUAL_ROUNDING, mass: halfUp(2) },
    weights: { kind: 'dry', unit: 'kg', franchiseFrac: '0.005' },
    assays: [
      exchangedAssay('Au', 'g/t', 1, '2'),
      exchangedAssay('Ag', 'g/t', 0, '25'),
      exchangedAssay('As', 'percent', 2, '0.05'),
    ],
    metals: [
      {
        ...newMetal('Au', false),
        form: { kind: 'lesser-of', paidFrac: '0.95', deduction: '1' },
        minimumGrade: '1',
        refining: { kind: 'per-payable-unit', rate: '8', escalators: [] },
      },
      {
        ...newMetal('Ag', false),
        form: { kind: 'lesser-of', paidFrac: '0.9', deduction: '50' },
        minimumGrade: '50',
        refining: { kind: 'per-payable-unit', rate: '0.6', escalators: [] },
      },
    ],
    charges: [
      { ...newCharge('settlement', 'tonne'), name: 'Treatment charge', rate: '250' },
      {
        kind: 'flat',
        purpose: 'assaying',
        name: 'Sampling and assaying',
        currency: null,
        amount: '300',
        per: 'parcel',
        onlyBelow: null,
      },
    ],
    penalties: [
      {
        ...newPenalty('tonne'),
        name: 'Arsenic',
        elements: ['As'],
        ladder: {
          kind: 'marginal',
          counting: 'pro-rata',
          bands: [{ from: '0.2', step: '0.1', rate: '3' }],
        },
      },
    ],
    provisional: { shareFrac: '0.85', of: 'net-value' },
    payment: [
      { stage: 'provisional', days: 10, dayKind: 'business', after: 'arrival' },
      { stage: 'final', days: 60, dayKind: 'calendar', after: 'arrival' },
    ],
  };
}

function dore(currency: string): Terms {
  const assay = (element: string): AssayRule => ({
    element,
    unit: 'fineness',
    rounding: halfUp(1),
    settledBy: { kind: 'buyer' },
  });
  return {
    ...startingTerms({ title: 'Refining of doré', material: 'dore' }),
    currency,
    weights: { kind: 'melt', unit: 'ozt', massOfRecord: 'after-melting', meltLossLimitFrac: '0.01' },
    assays: [assay('Au'), assay('Ag')],
    metals: [
      {
        ...newMetal('Au', true),
        form: { kind: 'percent-then-unit', paidFrac: '0.995', deduction: '0' },
      },
      {
        ...newMetal('Ag', true),
        form: { kind: 'percent-then-unit', paidFrac: '0.98', deduction: '0' },
      },
    ],
    charges: [
      {
        ...newCharge('received', 'ozt'),
        purpose: 'refining',
        name: 'Refining charge per gross ounce',
        rate: '1',
        minimum: '150',
      },
    ],
    provisional: { shareFrac: '0.9', of: 'net-value' },
    payment: [
      { stage: 'provisional', days: 2, dayKind: 'business', after: 'melting' },
      { stage: 'final', days: 10, dayKind: 'calendar', after: 'melting' },
    ],
  };
}

export type StartingPoint = 'concentrate' | 'dore';

/** A working contract for gold and silver, in the mill's currency. */
export const usualTerms = (start: StartingPoint, currency: string): Terms =>
  start === 'dore' ? dore(currency) : concentrate(currency);
