import { describe, expect, it } from 'vitest';
import { checkTerms } from '../../../api/calc/terms/check-terms.ts';
import type { Charge, Penalty, Royalty } from '../../../api/calc/terms/charge-terms.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { assayRule, metal } from '../settlement/support.ts';

const all = { kind: 'unit-then-percent', paidFrac: '0.95', deduction: '0' } as const;
const freight: Charge = {
  kind: 'per-mass',
  purpose: 'freight',
  name: 'Freight',
  currency: null,
  rate: '50',
  basis: 'wet',
  unit: 'tonne',
  minimum: null,
  escalators: [],
};
const arsenic: Penalty = {
  name: 'Arsenic',
  elements: ['As'],
  unit: 'percent',
  ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '0.2', step: '0.1', rate: '2' }] },
  basis: 'settlement',
  massUnit: 'tonne',
  refusedAbove: '1.5',
};
const owner: Royalty = {
  name: 'Claim owner',
  kind: 'royalty',
  base: { kind: 'net-smelter-return' },
  rate: { kind: 'flat', rateFrac: '0.03' },
  exemption: null,
  paidBy: 'buyer-withholds',
  payees: [],
};

const good: Terms = {
  ...startingTerms({ title: 'An invented contract', material: 'concentrate' }),
  assays: [assayRule('Au', 'g/t', 2), assayRule('As', 'percent', 2)],
  metals: [metal('Au', 'ozt', '2000', all)],
  charges: [freight],
  penalties: [arsenic],
  royalties: [owner],
};

const gold = metal('Au', 'ozt', '2000', all);

const found = (changed: Partial<Terms>) => checkTerms({ ...good, ...changed });

describe('check of terms', () => {
  it('has nothing to say to a sound contract', () => {
    expect(checkTerms(good)).toEqual([]);
  });

  it.each<[string, string, Partial<Terms>]>([
    ['no-assay-rule', '/metals/0', { assays: [assayRule('As', 'percent')] }],
    ['no-assay-rule', '/penalties/0', { assays: [assayRule('Au', 'g/t')] }],
    ['assay-rule-twice', '/assays/2', { assays: [...good.assays, assayRule('Au', 'percent')] }],
    ['metal-twice', '/metals/1', { metals: [gold, gold] }],
    [
      'paid-fraction-out-of-range',
      '/metals/0/form',
      { metals: [{ ...gold, form: { ...all, paidFrac: '95' } }] },
    ],
    ['paid-fraction-small', '/metals/0/form', { metals: [{ ...gold, form: { ...all, paidFrac: '0.095' } }] }],
    ['deduction-negative', '/metals/0/form', { metals: [{ ...gold, form: { ...all, deduction: '-1' } }] }],
    [
      'levels-not-rising',
      '/metals/0/form',
      {
        metals: [
          {
            ...gold,
            form: {
              kind: 'bands',
              bands: [
                { fromGrade: '10', paidFrac: '0.9' },
                { fromGrade: '5', paidFrac: '0.95' },
              ],
            },
          },
        ],
      },
    ],
    [
      'step-pays-less',
      '/metals/0/form',
      {
        metals: [
          {
            ...gold,
            form: {
              kind: 'steps',
              steps: [
                { fromGrade: '1', form: { ...all, paidFrac: '0.97' } },
                { fromGrade: '10', form: { ...all, paidFrac: '0.90' } },
              ],
            },
          },
        ],
      },
    ],
    [
      'period-backwards',
      '/metals/0/price/basis/period',
      {
        metals: [
          {
            ...gold,
            price: {
              ...gold.price,
              basis: {
                kind: 'quotations',
                source: 'an invented price',
                provisional: { kind: 'latest' },
                period: { kind: 'business-days', event: 'arrival', from: 5, to: 1, holidays: [] },
              },
            },
          },
        ],
      },
    ],
    [
      'price-below-reductions',
      '/metals/0/price',
      { metals: [{ ...gold, price: { ...gold.price, reduction: '2000' } }] },
    ],
    [
      'price-fraction-out-of-range',
      '/metals/0/price/paidFrac',
      { metals: [{ ...gold, price: { ...gold.price, paidFrac: '1.2' } }] },
    ],
    ['mass-basis-not-of-material', '/charges/0/basis', { charges: [{ ...freight, basis: 'received' }] }],
    ['charge-negative', '/charges/0', { charges: [{ ...freight, rate: '-50' }] }],
    ['no-exchange-clause', '/exchangeRates', { charges: [{ ...freight, currency: 'CAD' }] }],
    ['no-exchange-clause', '/exchangeRates', { paidIn: 'CAD' }],
    [
      'escalator-metal-not-priced',
      '/charges/0/escalators/0',
      {
        charges: [
          {
            ...freight,
            escalators: [{ metal: 'Pb', up: null, down: null, maximumIncrease: null, maximumDecrease: null }],
          },
        ],
      },
    ],
    [
      'escalator-overlaps',
      '/charges/0/escalators/0',
      {
        charges: [
          {
            ...freight,
            escalators: [
              {
                metal: 'Au',
                up: {
                  kind: 'marginal',
                  counting: 'pro-rata',
                  bands: [{ from: '1900', step: '1', rate: '0.1' }],
                },
                down: {
                  kind: 'shortfall',
                  counting: 'pro-rata',
                  bands: [{ from: '2100', step: '1', rate: '0.1' }],
                },
                maximumIncrease: null,
                maximumDecrease: null,
              },
            ],
          },
        ],
      },
    ],
    [
      'levels-not-falling',
      '/penalties/0/ladder',
      {
        penalties: [
          {
            ...arsenic,
            ladder: {
              kind: 'shortfall',
              counting: 'pro-rata',
              bands: [
                { from: '1', step: '1', rate: '1' },
                { from: '2', step: '1', rate: '1' },
              ],
            },
          },
        ],
      },
    ],
    [
      'refused-before-penalty',
      '/penalties/0/refusedAbove',
      { penalties: [{ ...arsenic, refusedAbove: '0.1' }] },
    ],
    ['element-twice', '/penalties/0', { penalties: [{ ...arsenic, elements: ['As', 'As'] }] }],
    [
      'per-tonne-of-content',
      '/metals/0/order',
      {
        valuation: { kind: 'per-tonne', unit: 'tonne', totalPerTonne: false },
        metals: [{ ...gold, order: 'content' }],
      },
    ],
    [
      'per-tonne-in-metal',
      '/valuation',
      { valuation: { kind: 'per-tonne', unit: 'tonne', totalPerTonne: false }, settledIn: 'metal' },
    ],
    ['weights-not-of-material', '/weights/kind', { material: 'dore' }],
    [
      'franchise-large',
      '/weights/franchiseFrac',
      { weights: { kind: 'dry', unit: 'kg', franchiseFrac: '0.5' } },
    ],
    ['toll-share-without-toll', '/tollShareFrac', { tollShareFrac: '0.1' }],
    [
      'minimum-above-maximum',
      '/acceptance',
      { acceptance: { basis: 'dry', unit: 'tonne', minimum: '5', maximum: '2' } },
    ],
    ['factor-unusual', '/factors/ounceG', { factors: { ...good.factors, ounceG: '28.35' } }],
    [
      'factor-not-above-zero',
      '/factors/poundsPerTonne',
      { factors: { ...good.factors, poundsPerTonne: '0' } },
    ],
    ['royalty-twice', '/royalties/1', { royalties: [owner, owner] }],
    [
      'royalty-metal-not-priced',
      '/royalties/0',
      {
        royalties: [
          { ...owner, rate: { kind: 'price-steps', metal: 'Ag', steps: [{ from: '0', rateFrac: '0.01' }] } },
        ],
      },
    ],
    [
      'second-without-first',
      '/secondProvisional',
      { secondProvisional: { shareFrac: '0.9', of: 'net-value' } },
    ],
    [
      'second-below-first',
      '/secondProvisional/shareFrac',
      {
        provisional: { shareFrac: '0.9', of: 'net-value' },
        secondProvisional: { shareFrac: '0.8', of: 'net-value' },
      },
    ],
    [
      'interest-without-advance',
      '/interest',
      { interest: { rateFrac: '0.06', dayCount: 'ACT/360', period: { kind: 'days', days: 30 } } },
    ],
    [
      'payment-twice',
      '/payment/1',
      {
        payment: [1, 2].map((days) => ({
          stage: 'final' as const,
          days,
          dayKind: 'calendar' as const,
          after: 'arrival' as const,
        })),
      },
    ],
    [
      'multiple-finer-than-decimals',
      '/rounding/mass',
      { rounding: { ...good.rounding, mass: { decimals: 2, rule: 'truncate', multipleOf: '0.025' } } },
    ],
    ['not-a-number', '/charges/0/rate', { charges: [{ ...freight, rate: 'fifty' }] }],
    ['no-metal-payable', '/metals', { metals: [], royalties: [] }],
  ])('finds %s at %s', (code, path, changed) => {
    const findings = found(changed);
    expect(findings.map((f) => `${f.code} ${f.path}`)).toContain(`${code} ${path}`);
    for (const finding of findings) expect(finding.sentence).toMatch(/\.$/);
  });

  it('names a bracket that takes more than the value gained', () => {
    const charge: Charge = {
      kind: 'by-value',
      purpose: 'freight',
      name: 'Freight',
      currency: null,
      basis: 'dry',
      unit: 'tonne',
      brackets: {
        kind: 'bracket',
        brackets: [
          { from: '0', reachedAt: 'level', rate: '8' },
          { from: '50', reachedAt: 'level', rate: '10' },
        ],
      },
    };
    expect(found({ charges: [charge] }).map((f) => f.code)).toEqual(['bracket-pays-less']);
  });

  it('is satisfied with moisture as a level without an assay, but not of bars', () => {
    const moisture: Penalty = {
      ...arsenic,
      name: 'Moisture',
      elements: ['H2O'],
      basis: 'wet',
      refusedAbove: null,
    };
    expect(found({ penalties: [moisture] })).toEqual([]);
    const bars: Terms = {
      ...startingTerms({ title: 'Bars', material: 'dore' }),
      penalties: [{ ...moisture, basis: 'settlement' }],
    };
    expect(checkTerms(bars).map((f) => f.code)).toContain('moisture-of-bars');
  });
});
