import { interestDays } from '../calendar.ts';
import { dayWords } from '../day-words.ts';
import { Dec, type DecimalNumber } from '../money.ts';
import { percentText } from '../terms/payable-form.ts';
import { dateOfEvent } from '../terms/price-period.ts';
import type { InterestTerms } from '../terms/terms.ts';
import { eventWords } from '../terms/words.ts';
import { figure, given, shown } from './figure.ts';
import type { PreviousPayment } from './input.ts';
import { addLine, blocker, money, note, type SettlementRun } from './run.ts';

/** Part of an advance, the day from which it bears interest, and whether that is the day it was paid. */
interface Portion {
  amount: DecimalNumber;
  from: string | null;
  isPaid: boolean;
}

/**
 * Interest = advance × rate × days ÷ days of the year, on the final statement, from the day the advance was
 * paid. Where no payment is recorded it runs from the day of the statement, which is said; of an advance that
 * was paid in parts each runs from its own day, and what was never paid bears none. Statements after the
 * advances bear none either; an adjustment does not lengthen what the final one settled.
 */
export function interestOn(run: SettlementRun, index: number): void {
  const advance = run.input.previouslyPaid[index];
  const { interest } = run.terms;
  if (advance === undefined || interest === null || run.input.stage !== 'final') return;
  if (advance.stage === 'final' || advance.stage === 'adjustment') return;
  const amount = money(run, new Dec(advance.amount));
  if (amount.value.lte(0)) return;
  portionsOf(advance, amount.value).forEach((portion, place) => {
    addInterest(run, advance, interest, portion, place === 0 ? '' : `/${place + 1}`);
  });
}

/** Payments by day, no more of them than the advance came to; all of it from its own day where none is recorded. */
function portionsOf({ payments, paidOn = null }: PreviousPayment, amount: DecimalNumber): Portion[] {
  if (payments === undefined || payments.length === 0) return [{ amount, from: paidOn, isPaid: false }];
  let left = amount;
  return payments
    .toSorted((a, b) => (a.paidOn < b.paidOn ? -1 : 1))
    .flatMap((payment) => {
      const counted = Dec.min(left, payment.amount);
      left = left.minus(counted);
      return counted.gt(0) ? [{ amount: counted, from: payment.paidOn, isPaid: true }] : [];
    });
}

function addInterest(
  run: SettlementRun,
  { statementNumber }: PreviousPayment,
  interest: InterestTerms,
  { amount, from, isPaid }: Portion,
  place: string,
) {
  const advance = money(run, amount);
  const counted = interestCounted(run, statementNumber, from, interest, isPaid);
  // What was paid only after the last day of interest bears none.
  if (counted === null || (isPaid && counted.days < 0)) return;
  if (!isPaid && interest.period.kind === 'until' && from !== null && counted.days > 0) {
    note(
      run,
      'interest-from-issue-day',
      '/previouslyPaid',
      `No payment of statement ${statementNumber} is recorded, so interest runs from the day it was issued, ${dayWords(from)}. Enter the payment on that statement if it was paid on another day.`,
    );
  }
  const exact = advance.value.times(interest.rateFrac).times(counted.days).div(counted.yearDays);
  const due = figure(exact, run.terms.rounding.money, run.terms.currency);
  const paid = isPaid && from !== null ? `, paid ${dayWords(from)}` : '';
  addLine(run, {
    id: `previous/interest/${statementNumber}${place}`,
    section: 'previous',
    label: `Interest on statement ${statementNumber}${paid}, ${interest.dayCount}`,
    working: `${shown(advance)} × ${percentText(interest.rateFrac)} × ${counted.days} days ÷ ${counted.yearDays} = ${shown(due)}`,
    quantity: advance,
    rate: given(new Dec(interest.rateFrac).times(100).toFixed(), 'percent'),
    amount: due.value.neg(),
  });
}

/** Days of interest on one advance; null, and said, where a date is missing. */
function interestCounted(
  run: SettlementRun,
  statementNumber: string,
  from: string | null,
  { period, dayCount }: InterestTerms,
  isPaid: boolean,
): { days: number; yearDays: number } | null {
  if (period.kind === 'days') return { days: period.days, yearDays: dayCount === 'ACT/365' ? 365 : 360 };
  const settledOn = run.input.previouslyPaid.find((p) => p.stage === 'final')?.paidOn ?? null;
  const event = dateOfEvent(period.event, run.input.dates);
  const to = period.event === 'statement' && settledOn !== null ? settledOn : event;
  if (from === null || to === null) {
    const missing = from === null ? 'the day it was paid' : `the day of ${eventWords(period.event)}`;
    blocker(
      run,
      'interest-needs-dates',
      from === null ? '/previouslyPaid' : '/dates',
      `Interest on statement ${statementNumber} needs ${missing}, which is not entered.`,
    );
    return null;
  }
  const counted = interestDays({ from, to, dayCount });
  if (counted.days >= 0 || isPaid) return counted;
  blocker(
    run,
    'interest-days-negative',
    '/dates',
    `Interest on statement ${statementNumber} would run backwards, from ${dayWords(from)} to ${dayWords(to)}.`,
  );
  return null;
}
