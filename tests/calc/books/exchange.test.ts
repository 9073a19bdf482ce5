import { describe, expect, it } from 'vitest';
import { exchanged } from '../../../api/calc/books/exchange.ts';

const rates = [
  { currency: 'EUR', ratedOn: '2026-05-01', rate: '1.1' },
  { currency: 'EUR', ratedOn: '2026-06-01', rate: '1.0837' },
  { currency: 'CAD', ratedOn: '2026-06-01', rate: '0.73' },
];
const told = (on: string, currency = 'EUR', amount = '1234.56') =>
  exchanged({ amount, currency, on, millCurrency: 'USD', rates });

describe('an amount in another currency', () => {
  it('takes the last rate on or before the day, to the cent: 1,234.56 × 1.0837 = 1,337.892672', () => {
    expect(told('2026-06-03')).toEqual({
      amount: '1337.89',
      rate: '1.0837',
      ratedOn: '2026-06-01',
      findings: [],
    });
    expect(told('2026-05-08').amount).toBe('1358.02');
    expect(told('2026-06-01', 'CAD', '100').amount).toBe('73.00');
  });

  it('says when the rate is more than seven days old', () => {
    expect(told('2026-06-08').findings).toEqual([]);
    expect(told('2026-06-09')).toMatchObject({
      amount: '1337.89',
      findings: [{ code: 'exchange-rate-old', level: 'warning' }],
    });
  });

  it('guesses nothing where there is no rate yet', () => {
    expect(told('2026-04-30')).toMatchObject({
      amount: null,
      findings: [{ code: 'exchange-rate-missing', level: 'blocker' }],
    });
    expect(told('2026-04-30', 'USD')).toMatchObject({ amount: '1234.56', rate: '1', findings: [] });
  });
});
