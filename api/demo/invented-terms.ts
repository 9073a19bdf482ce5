import { halfUp } from '../calc/rounding.ts';
import { startingTerms, USUAL_ROUNDING } from '../calc/terms/starting-terms.ts';
import type { AssayRule } from '../calc/terms/assay-terms.ts';
import type { PriceTerms } from '../calc/terms/metal-terms.ts';
import type { Terms } from '../calc/terms/terms.ts';

/** The invented contracts of the demo season; no such companies exist. */

const exchange = (element: string, limit: string): AssayRule => ({
  element,
  unit: element === 'As' ? 'percent' : 'g/t',
  rounding: halfUp(element === 'As' ? 2 : 1),
  settledBy: {
    kind: 'exchange',
    splittingLimits: [{ fromGrade: '0', limit }],
    umpire: {
      rule: 'middle-of-three',
      cost: '180',
      costBorneBy: 'further-party',
      advancedBy: 'buyer',
    },
    absentPartyBound: true,
  },
});

const monthAfterArrival: PriceTerms = {
  unit: 'ozt',
  currency: null,
  basis: {
    kind: 'quotations',
    source: 'mean of the daily quotations in the month after arrival',
    period: { kind: 'calendar-month', event: 'arrival', monthsAfter: 1 },
    provisional: { kind: 'latest' },
  },
  paidFrac: '1',
  reduction: '0',
};

export const smelterTerms: Terms = {
  ...startingTerms({ title: 'Brackenmoor concentrate contract (invented)', material: 'concentrate' }),
  weights: { kind: 'dry', unit: 'kg', franchiseFrac: '0.005' },
  rounding: { ...USUAL_ROUNDING, mass: halfUp(1) },
  assays: [exchange('Au', '5'), exchange('Ag', '25'), exchange('As', '0.1')],
  metals: [
    {
      metal: 'Au',
      form: { kind: 'lesser-of', paidFrac: '0.86', deduction: '3' },
      minimumGrade: '3',
      order: 'grade',
      price: monthAfterArrival,
      refining: { kind: 'per-payable-unit', rate: '9', escalators: [] },
      rounding: null,
    },
    {
      metal: 'Ag',
      form: { kind: 'lesser-of', paidFrac: '0.82', deduction: '60' },
      minimumGrade: '60',
      order: 'grade',
      price: monthAfterArrival,
      refining: { kind: 'per-payable-unit', rate: '0.65', escalators: [] },
      rounding: null,
    },
  ],
  charges: [
    {
      kind: 'per-mass',
      purpose: 'treatment',
      name: 'Treatment charge',
      currency: null,
      rate: '265',
      basis: 'settlement',
      unit: 'tonne',
      minimum: null,
      escalators: [],
    },
    {
      kind: 'per-mass',
      purpose: 'freight',
      name: 'Freight to the smelter',
      currency: null,
      rate: '420',
      basis: 'wet',
      unit: 'tonne',
      minimum: '180',
      escalators: [],
    },
    {
      kind: 'flat',
      purpose: 'lot',
      name: 'Lot charge below two tonnes dry',
      currency: null,
      amount: '650',
      per: 'parcel',
      onlyBelow: { basis: 'dry', unit: 'tonne', mass: '2' },
    },
    {
      kind: 'flat',
      purpose: 'assaying',
      name: 'Sampling and assaying',
      currency: null,
      amount: '280',
      per: 'parcel',
      onlyBelow: null,
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
        bands: [{ from: '0.2', step: '0.1', rate: '3' }],
      },
      basis: 'settlement',
      massUnit: 'tonne',
      refusedAbove: '6',
    },
  ],
  provisional: { shareFrac: '0.85', of: 'net-value' },
  payment: [
    { stage: 'provisional', days: 10, dayKind: 'business', after: 'arrival' },
    { stage: 'final', days: 60, dayKind: 'calendar', after: 'arrival' },
  ],
};

const onTheDay: PriceTerms = {
  unit: 'ozt',
  currency: null,
  basis: {
    kind: 'quotations',
    source: 'quotation of the business day of shipment',
    period: { kind: 'business-days', event: 'shipment', from: 0, to: 0, holidays: [] },
    provisional: { kind: 'latest' },
  },
  paidFrac: '1',
  reduction: '0',
};

export const traderTerms: Terms = {
  ...startingTerms({ title: 'Quillhaven purchase on site (invented)', material: 'concentrate' }),
  assays: ['Au', 'Ag', 'As'].map((element) => ({
    element,
    unit: element === 'As' ? 'percent' : 'g/t',
    rounding: halfUp(element === 'As' ? 2 : 1),
    settledBy: { kind: 'mean' },
  })),
  metals: [
    {
      metal: 'Au',
      form: { kind: 'unit-then-percent', paidFrac: '0.78', deduction: '4' },
      minimumGrade: '10',
      order: 'grade',
      price: onTheDay,
      refining: null,
      rounding: null,
    },
    {
      metal: 'Ag',
      form: { kind: 'unit-then-percent', paidFrac: '0.62', deduction: '100' },
      minimumGrade: '100',
      order: 'grade',
      price: onTheDay,
      refining: null,
      rounding: null,
    },
  ],
  charges: [
    {
      kind: 'flat',
      purpose: 'sampling',
      name: 'Visit, sampling and assays',
      currency: null,
      amount: '220',
      per: 'parcel',
      onlyBelow: null,
    },
  ],
  penalties: [
    {
      name: 'Arsenic',
      elements: ['As'],
      unit: 'percent',
      ladder: {
        kind: 'marginal',
        counting: 'whole-steps',
        bands: [{ from: '0.5', step: '0.5', rate: '20' }],
      },
      basis: 'settlement',
      massUnit: 'tonne',
      refusedAbove: '3',
    },
  ],
  provisional: { shareFrac: '0.9', of: 'net-value' },
  payment: [
    { stage: 'provisional', days: 3, dayKind: 'business', after: 'shipment' },
    { stage: 'final', days: 20, dayKind: 'calendar', after: 'shipment' },
  ],
};

const afterMelting: PriceTerms = {
  ...onTheDay,
  basis: {
    kind: 'quotations',
    source: 'mean of the three business days after melting',
    period: { kind: 'business-days', event: 'melting', from: 1, to: 3, holidays: [] },
    provisional: { kind: 'latest' },
  },
};

export const refinerTerms: Terms = {
  ...startingTerms({ title: 'Vellorin doré refining (invented)', material: 'dore' }),
  weights: { kind: 'melt', unit: 'ozt', massOfRecord: 'after-melting', meltLossLimitFrac: '0.01' },
  assays: [
    {
      element: 'Au',
      unit: 'fineness',
      rounding: halfUp(1),
      settledBy: { kind: 'buyer' },
    },
    {
      element: 'Ag',
      unit: 'fineness',
      rounding: halfUp(1),
      settledBy: { kind: 'buyer' },
    },
  ],
  metals: [
    {
      metal: 'Au',
      form: { kind: 'percent-then-unit', paidFrac: '0.9925', deduction: '0' },
      minimumGrade: null,
      order: 'content',
      price: afterMelting,
      refining: null,
      rounding: null,
    },
    {
      metal: 'Ag',
      form: { kind: 'percent-then-unit', paidFrac: '0.97', deduction: '0' },
      minimumGrade: null,
      order: 'content',
      price: afterMelting,
      refining: null,
      rounding: null,
    },
  ],
  charges: [
    {
      kind: 'per-mass',
      purpose: 'refining',
      name: 'Refining charge per gross ounce',
      currency: null,
      rate: '1.1',
      basis: 'received',
      unit: 'ozt',
      minimum: '150',
      escalators: [],
    },
    {
      kind: 'flat',
      purpose: 'freight',
      name: 'Insured carriage',
      currency: null,
      amount: '65',
      per: 'parcel',
      onlyBelow: null,
    },
  ],
  provisional: { shareFrac: '0.9', of: 'net-value' },
  payment: [
    { stage: 'provisional', days: 2, dayKind: 'business', after: 'melting' },
    { stage: 'final', days: 10, dayKind: 'calendar', after: 'melting' },
  ],
};
