import { Dec } from '../money.ts';
import { shown } from './figure.ts';
import { addLine, money, type SettlementRun } from './run.ts';

/** Amounts agreed for this parcel alone, below zero among the charges, otherwise among the credits. */
export function workAgreedItems(run: SettlementRun): void {
  run.input.agreedItems?.forEach(({ name, amount, reason }, index) => {
    const value = money(run, new Dec(amount));
    const section = value.value.isNegative() ? 'charges' : 'credits';
    addLine(run, {
      id: `${section}/agreed/${index + 1}`,
      section,
      label: name,
      working: `${reason === '' ? 'agreed for this parcel' : reason}: ${shown(money(run, value.value.abs()))}`,
      amount: value.value,
    });
  });
}
