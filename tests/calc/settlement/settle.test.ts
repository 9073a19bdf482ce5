import { describe, expect, it } from 'vitest';
import { halfUp } from '../../../api/calc/rounding.ts';
import type { SettlementInput } from '../../../api/calc/settlement/input.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import type { Charge, Royalty } from '../../../api/calc/terms/charge-terms.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
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

/*
 * Arithmetic by hand on an invented parcel: 10,000 kg wet, 10 % moisture, 9,000 kg dry at 50 g/t gold and
 * 0.5 % arsenic. Gold: 9 t × 50 g/t × 96 % = 432 g; ÷ 31.1034768 = 13.889 ozt; × 2,000 = 27,778.00 USD.
 */
const gold = metal('Au', 'ozt', '2000.00', { kind: 'unit-then-percent', paidFrac: '0.96', deduction: '0' });
const terms: Terms = {
  ...startingTerms({ title: 'An invented contract', material: 'concentrate' }),
  assays: [assayRule('Au', 'g/t', 2), assayRule('As', 'percent', 2)],
  metals: [gold],
  provisional: { shareFrac: '0.85', of: 'net-value' },
};
const treatment: Charge = {
  kind: 'per-mass',
  purpose: 'treatment',
  name: 'Treatment charge',
  currency: null,
  rate: '300.00',
  basis: 'settlement',
  unit: 'tonne',
  minimum: null,
  escalators: [],
};
const base: SettlementInput = {
  terms,
  stage: 'final',
  parcel: concentrate('10000', '0.10'),
  assays: [assay('Au', 'g/t', '50.00'), assay('As', 'percent', '0.50')],
  prices: [],
  dates: NO_DATES,
  previouslyPaid: [],
};

function work(changed: Partial<Terms>, more: Partial<SettlementInput> = {}) {
  const all = { ...terms, ...changed };
  const settlement = settle({ ...base, ...more, terms: all });
  expectProvable(settlement, all);
  return settlement;
}

describe('a settlement by hand', () => {
  it('runs from gross mass to total', () => {
    const settlement = work({ charges: [treatment] });
    expect(resultOf(settlement, 'weights/wet')).toBe('10000');
    expect(resultOf(settlement, 'weights/dry')).toBe('9000');
    expect(resultOf(settlement, 'payable/Au/grade')).toBe('48.0000');
    expect(resultOf(settlement, 'payable/Au/metal')).toBe('13.889');
    expect(amountOf(settlement, 'payable/Au')).toBe('27778.00');
    expect(amountOf(settlement, 'charges/treatment')).toBe('-2700.00');
    expect(settlement.total).toBe('25078.00');
    expect(lineOf(settlement, 'payable/Au/metal').working).toBe(
      '9,000 kg × 48.0000 g/t ÷ 1,000 ÷ 31.1034768 = 13.889 ozt',
    );
    expect(settlement.lines.map((line) => line.id)).toEqual([
      'weights/wet',
      'weights/dry',
      'weights/settlement',
      'assays/Au',
      'prices/Au',
      'payable/Au/grade',
      'payable/Au/metal',
      'payable/Au',
      'charges/treatment',
      'previous/net-value',
      'total/total',
    ]);
    expect(settlement.roundingRules).toContain('Money in USD to 2 decimals, halves up.');
  });

  it('weights sublots by their dry mass', () => {
    // 2,000 kg dry at 60 g/t and 6,000 kg dry at 40 g/t: 45 g/t.
    const settlement = work(
      {},
      {
        parcel: {
          kind: 'concentrate',
          sublots: [
            { name: 'A', grossKg: '2600', tareKg: '100', moistureFrac: '0.20' },
            { name: 'B', grossKg: '6100', tareKg: '100', moistureFrac: '0' },
          ],
        },
        assays: [
          { ...assay('Au', 'g/t', '60.00'), sublot: 'A' },
          { ...assay('Au', 'g/t', '40.00'), sublot: 'B' },
          assay('As', 'percent', '0'),
        ],
      },
    );
    expect(resultOf(settlement, 'weights/dry')).toBe('8000');
    expect(resultOf(settlement, 'assays/Au')).toBe('45.00');
    expect(lineOf(settlement, 'assays/Au').working).toBe(
      '(2,000 kg × 60.00 + 6,000 kg × 40.00) ÷ (2,000 + 6,000) = 45.00 g/t',
    );
  });

  it('gives an hour glass of charges: flat, per lot, share of value, minimum, least of all', () => {
    const flat = (amount: string, more: object): Charge => ({
      kind: 'flat',
      purpose: 'lot',
      name: 'Lot charge',
      currency: null,
      amount,
      per: 'parcel',
      onlyBelow: null,
      ...more,
    });
    const settlement = work({
      charges: [
        flat('175.00', { onlyBelow: { basis: 'dry', unit: 'tonne', mass: '17' } }),
        flat('500.00', { onlyBelow: { basis: 'dry', unit: 'tonne', mass: '9' } }),
        flat('60.00', { per: 'piece', purpose: 'sampling' }),
        {
          kind: 'per-started-lot',
          purpose: 'assaying',
          name: 'Assays',
          currency: null,
          amount: '80.00',
          basis: 'wet',
          unit: 'tonne',
          mass: '4',
        },
        {
          kind: 'share-of-value',
          purpose: 'insurance',
          name: 'Insurance',
          currency: null,
          shareFrac: '0.0006',
          ofFrac: '1.10',
          minimum: '25.00',
        },
        { ...treatment, rate: '1.00', minimum: '100.00' },
      ],
      minimumCharges: '1000.00',
    });
    expect(amountOf(settlement, 'charges/lot')).toBe('-175.00');
    expect(settlement.lines.some((line) => line.id === 'charges/lot/2')).toBe(false);
    expect(amountOf(settlement, 'charges/sampling')).toBe('-60.00');
    // Three started lots of 4 t in 10 t wet.
    expect(amountOf(settlement, 'charges/assaying')).toBe('-240.00');
    // 27,778.00 × 110 % × 0.06 % = 18.33, brought to 25.00.
    expect(amountOf(settlement, 'charges/insurance')).toBe('-18.33');
    expect(amountOf(settlement, 'charges/insurance/minimum')).toBe('-6.67');
    expect(amountOf(settlement, 'charges/treatment')).toBe('-9.00');
    expect(amountOf(settlement, 'charges/treatment/minimum')).toBe('-91.00');
    expect(amountOf(settlement, 'charges/minimum')).toBe('-400.00');
    expect(settlement.total).toBe('26778.00');
  });

  it('moves a charge with the price, up and down, within its caps', () => {
    const escalated = (price: string, cap: string | null) =>
      work({
        metals: [{ ...gold, price: { ...gold.price, basis: { kind: 'fixed', price } } }],
        charges: [
          {
            ...treatment,
            escalators: [
              {
                metal: 'Au',
                up: {
                  kind: 'marginal',
                  counting: 'pro-rata',
                  bands: [{ from: '2000', step: '1', rate: '0.10' }],
                },
                down: {
                  kind: 'shortfall',
                  counting: 'whole-steps',
                  bands: [{ from: '1900', step: '10', rate: '2' }],
                },
                maximumIncrease: cap,
                maximumDecrease: cap,
              },
            ],
          },
        ],
      });
    const change = (price: string, cap: string | null = null) =>
      amountOf(escalated(price, cap), 'charges/treatment/escalator-1');
    expect(change('2100')).toBe('-90.00');
    expect(change('2100', '4')).toBe('-36.00');
    expect(change('1950')).toBe('0.00');
    // 45 below 1,900: four whole tens, 8 USD per tonne less.
    expect(change('1855')).toBe('72.00');
    expect(change('1855', '3')).toBe('27.00');
  });

  it('exchanges prices, charges and the total at the contract’s day', () => {
    const settlement = work(
      {
        metals: [{ ...gold, price: { ...gold.price, currency: 'EUR' } }],
        charges: [{ ...treatment, currency: 'CAD', rate: '400.00' }],
        exchangeRates: [
          { currency: 'EUR', rateOn: 'arrival', source: 'an invented bank' },
          { currency: 'CAD', rateOn: 'arrival', source: 'an invented bank' },
        ],
        paidIn: 'CAD',
      },
      {
        dates: { ...NO_DATES, arrivedOn: '2026-05-10' },
        exchangeRates: [
          { currency: 'EUR', rate: '1.1000', date: '2026-05-08' },
          { currency: 'EUR', rate: '1.2000', date: '2026-05-11' },
          { currency: 'CAD', rate: '0.7300', date: '2026-05-08' },
        ],
      },
    );
    // 2,000 EUR × 1.10 = 2,200 USD; 400 CAD × 0.73 = 292 USD per tonne.
    expect(resultOf(settlement, 'prices/Au/USD')).toBe('2200.0000');
    expect(amountOf(settlement, 'payable/Au')).toBe('30555.80');
    expect(amountOf(settlement, 'charges/treatment')).toBe('-2628.00');
    expect(settlement.total).toBe('27927.80');
    // 27,927.80 USD ÷ 0.73
    expect(resultOf(settlement, 'total/CAD')).toBe('38257.26');
  });

  it('divides a royalty among its payees to the last cent', () => {
    const owner: Royalty = {
      name: 'Claim owners',
      kind: 'royalty',
      base: { kind: 'net-smelter-return' },
      rate: { kind: 'flat', rateFrac: '0.03' },
      exemption: null,
      paidBy: 'buyer-withholds',
      payees: ['A', 'B', 'C'].map((name) => ({ name: `Owner ${name}`, share: '1' })),
    };
    const settlement = work({ charges: [treatment], royalties: [owner] });
    // 3 % of 25,078.00 = 752.34 = 3 × 250.78
    expect(resultOf(settlement, 'royalties/claim-owners')).toBe('752.34');
    expect([1, 2, 3].map((n) => amountOf(settlement, `royalties/claim-owners/${n}`))).toEqual([
      '-250.78',
      '-250.78',
      '-250.78',
    ]);
    expect(settlement.total).toBe('24325.66');
    const accrued = work({ charges: [treatment], royalties: [{ ...owner, paidBy: 'seller-pays' }] });
    expect(accrued.total).toBe('25078.00');
    expect(resultOf(accrued, 'royalties/claim-owners/1')).toBe('250.78');
  });

  it('reckons a royalty on its own price and on a sliding scale', () => {
    const settlement = work({
      royalties: [
        {
          name: 'Sliding royalty',
          kind: 'royalty',
          base: { kind: 'own-price', metals: [{ metal: 'Au', mass: 'contained', price: '1500' }] },
          rate: {
            kind: 'price-steps',
            metal: 'Au',
            steps: [
              { from: '1000', rateFrac: '0.02' },
              { from: '2000', rateFrac: '0.04' },
              { from: '3000', rateFrac: '0.06' },
            ],
          },
          exemption: null,
          paidBy: 'buyer-withholds',
          payees: [],
        },
      ],
    });
    // 450 g ÷ 31.1034768 = 14.468 ozt × 1,500 = 21,702.00 × 4 %
    expect(amountOf(settlement, 'royalties/sliding-royalty')).toBe('-868.08');
  });

  it('returns metal and charges money under a toll agreement', () => {
    // The mill is the buyer here, and its own result counts.
    const assays = base.assays.map((a) => ({ ...a, own: a.buyer, buyer: null }));
    const settlement = work(
      { direction: 'we-toll', settledIn: 'metal', tollShareFrac: '0.10', charges: [treatment] },
      { assays },
    );
    // 13.889 × 90 % = 12.5001
    expect(resultOf(settlement, 'payable/Au')).toBe('12.500');
    expect(lineOf(settlement, 'payable/Au').amount).toBeNull();
    expect(settlement.total).toBe('-2700.00');
    expect(settlement.findings.map((f) => f.code)).toEqual(['total-below-zero']);
  });

  it('values metal returned only where a charge is reckoned on it', () => {
    const insurance: Charge = {
      kind: 'share-of-value',
      purpose: 'insurance',
      name: 'Insurance',
      currency: null,
      shareFrac: '0.01',
      ofFrac: '1',
      minimum: null,
    };
    const settlement = work({ settledIn: 'metal', charges: [insurance] });
    expect(resultOf(settlement, 'payable/Au/value')).toBe('27778.00');
    expect(settlement.total).toBe('-277.78');
  });

  it('lays the umpire’s cost on the party further away', () => {
    const umpired = (umpire: string, advancedBy: 'seller' | 'buyer') =>
      work(
        {
          assays: [
            {
              ...assayRule('Au', 'g/t', 2),
              settledBy: {
                kind: 'exchange',
                splittingLimits: [{ fromGrade: '0', limit: '0.50' }],
                umpire: { rule: 'nearer-party', cost: '180.00', costBorneBy: 'further-party', advancedBy },
                absentPartyBound: false,
              },
            },
            assayRule('As', 'percent', 2),
          ],
        },
        {
          assays: [
            { element: 'Au', unit: 'g/t', own: '51.00', buyer: '49.00', umpire },
            assay('As', 'percent', '0.5'),
          ],
        },
      );
    expect(amountOf(umpired('49.50', 'buyer'), 'charges/umpire/Au')).toBe('-180.00');
    expect(amountOf(umpired('50.60', 'buyer'), 'charges/umpire/Au')).toBe('0.00');
    expect(amountOf(umpired('50.60', 'seller'), 'charges/umpire/Au')).toBe('180.00');
    expect(amountOf(umpired('50.00', 'seller'), 'charges/umpire/Au')).toBe('90.00');
  });
});

describe('advances, interest and what was paid before', () => {
  it('holds back and then pays the rest with interest for the days advanced', () => {
    const interest = {
      rateFrac: '0.06',
      dayCount: 'ACT/360' as const,
      period: { kind: 'until' as const, event: 'statement' as const },
    };
    const first = work({ interest }, { stage: 'provisional' });
    // 85 % of 27,778.00
    expect(first.total).toBe('23611.30');
    const paid = {
      statementNumber: 'S-1',
      amount: first.total,
      paidOn: '2026-05-01',
      stage: 'provisional' as const,
    };
    const dates = { ...NO_DATES, statementOn: '2026-06-30' };
    const last = work({ interest }, { previouslyPaid: [paid], dates });
    // 23,611.30 × 6 % × 60 ÷ 360 = 236.11
    expect(amountOf(last, 'previous/interest/S-1')).toBe('-236.11');
    expect(last.total).toBe('3930.59');
    // An adjustment a month later bears no more interest than the final statement did.
    const settled = {
      statementNumber: 'S-2',
      amount: last.total,
      paidOn: '2026-06-30',
      stage: 'final' as const,
    };
    const adjusted = work(
      { interest },
      { previouslyPaid: [paid, settled], dates: { ...NO_DATES, statementOn: '2026-07-31' } },
    );
    expect(adjusted.total).toBe('0.00');
  });

  it('runs interest from the days on which an advance was paid, and says where none is recorded', () => {
    const interest = {
      rateFrac: '0.06',
      dayCount: 'ACT/360' as const,
      period: { kind: 'until' as const, event: 'statement' as const },
    };
    const advance = {
      statementNumber: 'S-1',
      amount: '23611.30',
      paidOn: '2026-05-01',
      stage: 'provisional' as const,
    };
    const dates = { ...NO_DATES, statementOn: '2026-06-30' };
    const withPayments = (payments: { paidOn: string; amount: string }[]) =>
      work({ interest }, { previouslyPaid: [{ ...advance, payments }], dates });
    const codes = (payments: { paidOn: string; amount: string }[]) =>
      withPayments(payments).findings.map((finding) => finding.code);
    const whole = withPayments([{ paidOn: '2026-05-31', amount: '23611.30' }]);
    // 23,611.30 × 6 % × 30 ÷ 360
    expect(amountOf(whole, 'previous/interest/S-1')).toBe('-118.06');
    expect(lineOf(whole, 'previous/interest/S-1').label).toContain('paid 31 May 2026');
    const inParts = withPayments([
      { paidOn: '2026-06-10', amount: '13611.30' },
      { paidOn: '2026-05-31', amount: '10000.00' },
    ]);
    // 10,000 × 6 % × 30 ÷ 360 and 13,611.30 × 6 % × 20 ÷ 360
    expect(amountOf(inParts, 'previous/interest/S-1')).toBe('-50.00');
    expect(amountOf(inParts, 'previous/interest/S-1/2')).toBe('-45.37');
    // What was not paid bears none; what was paid after the last day neither.
    const partly = withPayments([
      { paidOn: '2026-05-31', amount: '10000.00' },
      { paidOn: '2026-07-02', amount: '5000.00' },
    ]);
    expect(partly.lines.filter((line) => line.id.startsWith('previous/interest/'))).toHaveLength(1);
    // More than the advance was paid: interest on the advance only.
    const more = withPayments([{ paidOn: '2026-05-31', amount: '30000.00' }]);
    expect(amountOf(more, 'previous/interest/S-1')).toBe('-118.06');
    expect(codes([])).toContain('interest-from-issue-day');
    expect(amountOf(withPayments([]), 'previous/interest/S-1')).toBe('-236.11');
    expect(codes([{ paidOn: '2026-05-31', amount: '1' }])).not.toContain('interest-from-issue-day');
  });

  it('advances a share of the payable value with all charges taken in full', () => {
    const settlement = work(
      { provisional: { shareFrac: '0.90', of: 'payable-value' }, charges: [treatment] },
      { stage: 'provisional' },
    );
    // 27,778.00 × 90 % − 2,700.00
    expect(settlement.total).toBe('22300.20');
  });

  it('counts a fixed number of days without any date', () => {
    const interest = {
      rateFrac: '0.08',
      dayCount: '30/360' as const,
      period: { kind: 'days' as const, days: 45 },
    };
    const settlement = work(
      { interest },
      { previouslyPaid: [{ statementNumber: 'S-1', amount: '10000.00' }] },
    );
    // 10,000 × 8 % × 45 ÷ 360
    expect(amountOf(settlement, 'previous/interest/S-1')).toBe('-100.00');
  });

  it('says by when the total is due', () => {
    const payment: Terms['payment'] = [
      { stage: 'provisional', days: 5, dayKind: 'business', after: 'arrival' },
      { stage: 'final', days: 30, dayKind: 'calendar', after: 'statement' },
    ];
    // Friday 8 May 2026 and five business days; 2 June and thirty days.
    const dates = { ...NO_DATES, arrivedOn: '2026-05-08', statementOn: '2026-06-02' };
    const label = (stage: SettlementInput['stage'], known: SettlementInput['dates'] = dates) =>
      lineOf(work({ payment }, { stage, dates: known }), 'total/total').label;
    expect(label('provisional')).toBe('Due from the buyer to the seller, by 15 May 2026');
    expect(label('final')).toBe('Due from the buyer to the seller, by 2 Jul 2026');
    expect(label('final', NO_DATES)).toBe('Due from the buyer to the seller');
  });

  it('asks for the day an advance was paid', () => {
    const settlement = work(
      { interest: { rateFrac: '0.06', dayCount: 'ACT/365', period: { kind: 'until', event: 'statement' } } },
      { previouslyPaid: [{ statementNumber: 'S-1', amount: '100.00' }] },
    );
    expect(blockersOf(settlement)).toContain('interest-needs-dates');
    expect(settlement.lines.some((line) => line.section === 'total')).toBe(false);
  });

  it('knows no advance that the contract does not know', () => {
    expect(blockersOf(work({}, { stage: 'second-provisional' }))).toContain('no-such-advance');
  });
});

describe('what is missing', () => {
  it('names a missing assay and gives no total', () => {
    const settlement = work({}, { assays: [assay('As', 'percent', '0.5')] });
    expect(blockersOf(settlement)).toEqual(['assay-missing', 'total-not-issued']);
    expect(settlement.findings[0]?.sentence).toContain('Au');
    expect(settlement.lines.some((line) => line.section === 'total')).toBe(false);
    expect(settlement.lines.some((line) => line.id.startsWith('payable/'))).toBe(false);
  });

  it('names a missing price, omits its line and works the rest', () => {
    const quoted = {
      kind: 'quotations' as const,
      source: 'an invented daily price',
      period: { kind: 'calendar-month' as const, event: 'arrival' as const, monthsAfter: 1 },
      provisional: { kind: 'latest' as const },
    };
    const settlement = work({
      metals: [{ ...gold, price: { ...gold.price, basis: quoted } }],
      charges: [treatment],
    });
    expect(blockersOf(settlement)).toEqual(['price-missing', 'total-not-issued']);
    expect(settlement.lines.some((line) => line.id === 'payable/Au')).toBe(false);
    expect(amountOf(settlement, 'charges/treatment')).toBe('-2700.00');
    const early = work(
      { metals: [{ ...gold, price: { ...gold.price, basis: quoted } }] },
      {
        prices: [
          { metal: 'Au', price: null, basis: '', quotations: [{ date: '2026-06-01', price: '2000' }] },
        ],
        dates: { ...NO_DATES, arrivedOn: '2026-05-10', statementOn: '2026-06-02' },
      },
    );
    expect(blockersOf(early)).toEqual(['quotational-period-not-over', 'total-not-issued']);
  });

  it('takes a price as entered with its reason, and warns where quotations say otherwise', () => {
    const quoted = {
      kind: 'quotations' as const,
      source: 'an invented daily price',
      period: { kind: 'dates' as const, from: '2026-06-01', to: '2026-06-02' },
      provisional: { kind: 'latest' as const },
    };
    const metals = [{ ...gold, price: { ...gold.price, basis: quoted } }];
    const entered = work(
      { metals },
      { prices: [{ metal: 'Au', price: '2000.00', basis: 'agreed by letter', quotations: [] }] },
    );
    expect(lineOf(entered, 'prices/Au').label).toBe('Au, agreed by letter');
    expect(entered.total).toBe('27778.00');
    const quotations = [
      { date: '2026-06-01', price: '1990.00' },
      { date: '2026-06-02', price: '2000.00' },
    ];
    const other = work({ metals }, { prices: [{ metal: 'Au', price: '2000.00', basis: '', quotations }] });
    expect(resultOf(other, 'prices/Au')).toBe('1995.0000');
    expect(other.findings.map((f) => f.code)).toEqual(['price-differs-from-quotations']);
  });

  it('warns of a price entered where the contract fixes one', () => {
    const settlement = work(
      {},
      { prices: [{ metal: 'Au', price: '2100', basis: 'by telephone', quotations: [] }] },
    );
    expect(settlement.findings.map((f) => f.code)).toEqual(['price-is-fixed']);
    expect(settlement.total).toBe('27778.00');
  });

  it('says above which level the buyer may refuse', () => {
    const settlement = work({
      penalties: [
        {
          name: 'Arsenic',
          elements: ['As'],
          unit: 'percent',
          ladder: {
            kind: 'marginal',
            counting: 'pro-rata',
            bands: [{ from: '0.1', step: '0.1', rate: '2' }],
          },
          basis: 'settlement',
          massUnit: 'tonne',
          refusedAbove: '0.4',
        },
      ],
    });
    expect(blockersOf(settlement)).toEqual([]);
    const [said] = settlement.findings.filter(({ code }) => code === 'above-refusal-level');
    expect(said).toMatchObject({ level: 'warning' });
    expect(said?.sentence).toContain('if the buyer accepts it');
    expect(resultOf(settlement, 'total/total')).toBe(settlement.total);
    expect(amountOf(settlement, 'penalties/As')).toBe('-72.00');
  });

  it('warns of a parcel outside the buyer’s limits and of a melt loss above the agreed', () => {
    const small = work({ acceptance: { basis: 'dry', unit: 'tonne', minimum: '10', maximum: null } });
    expect(small.findings.map((f) => f.code)).toEqual(['parcel-below-minimum']);
    const start = startingTerms({ title: 'Bars', material: 'dore' });
    const bars = settle({
      ...base,
      terms: {
        ...start,
        weights: { kind: 'melt', unit: 'g', massOfRecord: 'after-melting', meltLossLimitFrac: '0.01' },
      },
      parcel: { kind: 'dore', bars: [{ name: 'Bar', receivedG: '1000', afterMeltG: '985' }] },
      assays: [],
    });
    expect(bars.findings.map((f) => f.code)).toContain('melt-loss-above-limit');
  });

  it.each<[string, Partial<SettlementInput>]>([
    ['not-a-number', { parcel: concentrate('ten', '0.1') }],
    ['not-a-date', { dates: { ...NO_DATES, arrivedOn: '2026-02-30' } }],
    ['moisture-out-of-range', { parcel: concentrate('1000', '8.0') }],
    [
      'tare-not-below-gross',
      {
        parcel: {
          kind: 'concentrate',
          sublots: [{ name: 'A', grossKg: '100', tareKg: '120', moistureFrac: '0' }],
        },
      },
    ],
    ['no-weights', { parcel: { kind: 'concentrate', sublots: [] } }],
    [
      'parcel-not-of-contract',
      { parcel: { kind: 'dore', bars: [{ name: 'A', receivedG: '1', afterMeltG: '1' }] } },
    ],
    [
      'assay-twice',
      { assays: [assay('Au', 'g/t', '1'), assay('Au', 'g/t', '2'), assay('As', 'percent', '0')] },
    ],
    [
      'assay-of-unknown-sublot',
      { assays: [{ ...assay('Au', 'g/t', '1'), sublot: 'Z' }, assay('As', 'percent', '0')] },
    ],
    ['assay-negative', { assays: [assay('Au', 'g/t', '-1'), assay('As', 'percent', '0')] }],
  ])('answers %s with a blocker, not by failing', (code, more) => {
    const settlement = settle({ ...base, ...more, terms: { ...terms, penalties: [] } });
    expect(blockersOf(settlement)).toContain(code);
    expect(blockersOf(settlement)).toContain('total-not-issued');
  });
});

describe('rounding of the contract', () => {
  it('changes the total by the rule at each stage', () => {
    const total = (rounding: Partial<Terms['rounding']>) =>
      work({ rounding: { ...terms.rounding, ...rounding } }).total;
    expect(total({})).toBe('27778.00');
    // 13.88911… ozt
    expect(total({ payableMetal: { decimals: 2, rule: 'truncate', multipleOf: null } })).toBe('27760.00');
    expect(total({ payableMetal: halfUp(5) })).toBe('27778.24');
    expect(total({ money: halfUp(0), payableMetal: halfUp(5) })).toBe('27778');
  });
});
