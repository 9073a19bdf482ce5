import { describe, expect, it } from 'vitest';
import type { QuotationalPeriod, QuotedBasis } from '../../../api/calc/terms/metal-terms.ts';
import {
  dateOfEvent,
  priceFromQuotations,
  quotationalPeriod,
  type FixedOrQuoted,
  type Quotation,
  type SettlementDates,
} from '../../../api/calc/terms/price-period.ts';

const dates: SettlementDates = {
  shippedOn: '2026-01-30',
  arrivedOn: '2026-02-11',
  weighedOn: null,
  meltedOn: '2026-02-13',
  assaysExchangedOn: null,
  priceDeclaredOn: null,
  statementOn: null,
};

const quoted = (
  period: QuotationalPeriod,
  provisional: QuotedBasis['provisional'] = { kind: 'latest' },
): QuotedBasis => ({ kind: 'quotations', source: 'an invented price', period, provisional });

const periodOf = (period: QuotationalPeriod) => quotationalPeriod({ priceBasis: quoted(period), dates });

describe('quotational periods', () => {
  it.each<[string, QuotationalPeriod, string, string]>([
    [
      'month of shipment',
      { kind: 'calendar-month', event: 'shipment', monthsAfter: 0 },
      '2026-01-01',
      '2026-01-31',
    ],
    [
      'M+1 of shipment',
      { kind: 'calendar-month', event: 'shipment', monthsAfter: 1 },
      '2026-02-01',
      '2026-02-28',
    ],
    [
      'M+2 of arrival',
      { kind: 'calendar-month', event: 'arrival', monthsAfter: 2 },
      '2026-04-01',
      '2026-04-30',
    ],
    [
      'month before arrival',
      { kind: 'calendar-month', event: 'arrival', monthsAfter: -1 },
      '2026-01-01',
      '2026-01-31',
    ],
    [
      'week after melting',
      { kind: 'calendar-week', event: 'melting', weeksAfter: 1 },
      '2026-02-16',
      '2026-02-22',
    ],
    [
      'five business days after arrival (a Wednesday)',
      { kind: 'business-days', event: 'arrival', from: 1, to: 5, holidays: [] },
      '2026-02-12',
      '2026-02-18',
    ],
    [
      'five business days after arrival with a holiday',
      { kind: 'business-days', event: 'arrival', from: 1, to: 5, holidays: ['2026-02-16'] },
      '2026-02-12',
      '2026-02-19',
    ],
    [
      'the two business days before arrival',
      { kind: 'business-days', event: 'arrival', from: -2, to: -1, holidays: [] },
      '2026-02-09',
      '2026-02-10',
    ],
    [
      'second business day after melting (a Friday)',
      { kind: 'business-days', event: 'melting', from: 2, to: 2, holidays: [] },
      '2026-02-17',
      '2026-02-17',
    ],
    [
      'ten calendar days from arrival',
      { kind: 'calendar-days', event: 'arrival', from: 0, to: 9 },
      '2026-02-11',
      '2026-02-20',
    ],
    ['dates', { kind: 'dates', from: '2026-03-02', to: '2026-03-06' }, '2026-03-02', '2026-03-06'],
  ])('%s', (_name, period, from, to) => {
    expect(periodOf(period)).toEqual({ from, to });
  });

  it('says which date is not known yet', () => {
    expect(periodOf({ kind: 'calendar-month', event: 'assay-exchange', monthsAfter: 0 })).toEqual({
      reason: 'The date of assay exchange is not known yet.',
    });
    expect(dateOfEvent('weighing', dates)).toBeNull();
    expect(dateOfEvent('arrival', { ...dates, arrivedOn: 'soon' })).toBeNull();
  });
});

describe('prices from quotations', () => {
  // Working week of 16 to 20 February 2026 and the days around it; prices invented.
  const quotations: Quotation[] = [
    { date: '2026-02-13', price: '99.00' },
    { date: '2026-02-16', price: '100.10' },
    { date: '2026-02-17', price: '101.00' },
    { date: '2026-02-19', price: '102.25' },
    { date: '2026-02-20', price: '103.00' },
    { date: '2026-02-23', price: '250.00' },
  ];
  const week = quoted({ kind: 'dates', from: '2026-02-16', to: '2026-02-22' });
  const priceOf = (priceBasis: FixedOrQuoted, known: Quotation[], statementOn: string | null = null) =>
    priceFromQuotations({ priceBasis, dates: { ...dates, statementOn }, quotations: known });

  it('means the quotations that lie in the period, and names weekdays without one', () => {
    const found = priceOf(week, quotations);
    // (100.10 + 101.00 + 102.25 + 103.00) ÷ 4
    expect(found.price?.toFixed()).toBe('101.5875');
    expect(found.quotationsUsed).toHaveLength(4);
    expect(found.missingDays).toEqual(['2026-02-18']);
    expect(found.complete).toBe(true);
    expect(found.findings.map((f) => [f.code, f.level])).toEqual([['weekdays-without-quotation', 'note']]);
  });

  it('does not depend on the order they are entered in', () => {
    expect(priceOf(week, quotations.toReversed()).price?.toFixed()).toBe('101.5875');
  });

  it('takes the latest while the period is not over', () => {
    const found = priceOf(week, quotations.slice(0, 4));
    expect(found.price?.toFixed()).toBe('102.25');
    expect(found.complete).toBe(false);
    expect(found.missingDays).toEqual(['2026-02-18']);
  });

  it('takes the mean of the last few where the contract says so', () => {
    const basis = quoted(
      { kind: 'dates', from: '2026-02-16', to: '2026-02-22' },
      { kind: 'mean-of-last', quotations: 3 },
    );
    expect(priceOf(basis, quotations.slice(0, 4)).price?.toFixed(6)).toBe('101.116667');
  });

  it('knows nothing that was quoted after the day of the statement', () => {
    const found = priceOf(week, quotations, '2026-02-17');
    expect(found.price?.toFixed()).toBe('101');
    expect(found.complete).toBe(false);
  });

  it('never invents a price', () => {
    expect(priceOf(week, []).price).toBeNull();
    const outside = priceOf(week, [{ date: '2026-02-27', price: '100' }]);
    expect(outside.price).toBeNull();
    expect(outside.findings.map((f) => f.code)).toContain('no-quotation-in-period');
  });

  it('takes a quotation entered twice once, and asks where two disagree', () => {
    const twice = [...quotations, { date: '2026-02-16', price: '100.1' }];
    expect(priceOf(week, twice).price?.toFixed()).toBe('101.5875');
    const other = [...quotations, { date: '2026-02-16', price: '100.20' }];
    expect(priceOf(week, other).findings).toContainEqual(
      expect.objectContaining({ code: 'quotations-disagree', level: 'blocker' }),
    );
  });

  it('gives a fixed price as it is', () => {
    const fixed = priceOf({ kind: 'fixed', price: '1234.50' }, []);
    expect(fixed.price?.toFixed(2)).toBe('1234.50');
    expect(fixed.complete).toBe(true);
  });
});
