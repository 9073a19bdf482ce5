import { describe, expect, it } from 'vitest';
import { paymentState } from '../../../api/calc/settlement/payment-state.ts';

describe('the payment of a statement', () => {
  const on = (day: string, parts: Partial<Parameters<typeof paymentState>[0]> = {}) =>
    paymentState({ total: '1250.10', paid: '0', dueOn: '2031-05-10', on: day, ...parts });

  it('is overdue from the day after it is due', () => {
    expect(on('2031-05-10')).toEqual({ state: 'open', open: '1250.1' });
    expect(on('2031-05-11').state).toBe('overdue');
    expect(on('2031-12-31', { dueOn: null }).state).toBe('open');
  });

  it('counts what was paid, whichever way it goes', () => {
    expect(on('2031-05-11', { paid: '1250.1' })).toEqual({ state: 'paid', open: '0' });
    expect(on('2031-05-11', { total: '-1250.10', paid: '250' })).toEqual({
      state: 'overdue',
      open: '1000.1',
    });
    expect(on('2031-05-11', { paid: '1300' })).toEqual({ state: 'overpaid', open: '-49.9' });
    expect(on('2031-05-11', { total: '0.00' }).state).toBe('nothing-owed');
  });
});
