import { Dec, sumOf, type DecimalNumber } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';

/** One side of an entry, in the currency that the mill keeps its books in. */
export interface JournalLine {
  /** What the amount is booked on: a kind of account, which the owner gives a code. */
  account: string;
  /** Decimal texts with two decimals; exactly one of the two is not '0.00'. */
  debit: string;
  credit: string;
  memo: string;
  /** What it was in another currency, signed as debit less credit; null where it was none. */
  foreign: { amount: string; currency: string; rate: string } | null;
}

/** One event, booked on at least two accounts with debits equal to credits. */
export interface JournalEntry {
  /** Names the record that it comes from, the same at every making. */
  key: string;
  on: string;
  document: string;
  description: string;
  lines: JournalLine[];
  /** Of a correction: the key of the entry of a closed month that it corrects, and that month. */
  corrects?: { key: string; month: string };
}

/** An amount to be booked: above zero a debit, below zero a credit; decimal text in the entry's currency. */
export interface Posting {
  account: string;
  amount: string;
  memo?: string;
}

/** Of the mill's currency for one of the other. */
export interface BookedRate {
  currency: string;
  rate: string;
}

/** Thrown when what is to be booked does not balance: a fault of the program, never of what was typed. */
export class UnbalancedEntryError extends Error {
  override name = 'UnbalancedEntryError';
}

/**
 * Books postings that balance as one entry; null where there is nothing to book.
 *
 * Postings on one account with one memo are added. In another currency each line is converted at `rate`, rounded to
 * the cent, halves up, and the cents by which the rounded lines miss each other go to `roundingAccount`, on a line
 * of their own. Throws UnbalancedEntryError where the postings themselves do not add up to nothing.
 * Source: double entry (L. Pacioli, Summa de arithmetica, 1494: every debit has its credit); IAS 21 §21 for
 * conversion at the rate of the day.
 */
export function journalEntry({
  postings,
  rate,
  roundingAccount,
  ...about
}: Omit<JournalEntry, 'lines'> & {
  postings: readonly Posting[];
  rate: BookedRate | null;
  roundingAccount: string;
}): JournalEntry | null {
  const sums = new Map<string, { account: string; memo: string; amount: DecimalNumber }>();
  for (const { account, memo = '', amount } of postings) {
    const key = `${account}\n${memo}`;
    const before = sums.get(key);
    sums.set(key, { account, memo, amount: (before?.amount ?? new Dec(0)).plus(amount) });
  }
  const booked = [...sums.values()].filter(({ amount }) => !amount.isZero());
  const left = sumOf(booked.map(({ amount }) => amount));
  if (!left.isZero())
    throw new UnbalancedEntryError(`${about.document}: debits and credits differ by ${left.toFixed()}`);
  if (booked.length === 0) return null;

  const lines = booked.map(({ account, memo, amount }) => ({
    ...sided(rate === null ? amount : amount.times(rate.rate)),
    account,
    memo,
    foreign: rate && { amount: amount.toFixed(), ...rate },
  }));
  const missed = sumOf(lines.flatMap(({ debit, credit }) => [debit, `-${credit}`]));
  if (!missed.isZero())
    lines.push({
      ...sided(missed.negated()),
      account: roundingAccount,
      memo: 'cents of conversion',
      foreign: null,
    });
  return { ...about, lines };
}

function sided(amount: DecimalNumber): { debit: string; credit: string } {
  const text = roundedText(amount.abs(), halfUp(2));
  return amount.isNegative() ? { debit: '0.00', credit: text } : { debit: text, credit: '0.00' };
}

/** Sum of all debits and of all credits; equal in a journal that balances. */
export function journalTotals(entries: readonly JournalEntry[]): { debit: string; credit: string } {
  const total = (side: 'debit' | 'credit'): string =>
    sumOf(entries.flatMap(({ lines }) => lines.map((line) => line[side]))).toFixed(2);
  return { debit: total('debit'), credit: total('credit') };
}

/** Debits less credits of every account that was booked on. */
export function trialBalance(entries: readonly JournalEntry[]): Map<string, string> {
  const balances = new Map<string, DecimalNumber>();
  for (const { lines } of entries)
    for (const { account, debit, credit } of lines)
      balances.set(account, (balances.get(account) ?? new Dec(0)).plus(debit).minus(credit));
  return new Map([...balances].map(([account, balance]) => [account, balance.toFixed(2)]));
}
