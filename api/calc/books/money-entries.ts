import { Dec, type DecimalNumber } from '../money.ts';
import type { Finding } from '../finding.ts';
import type { BookEntry, EntryRef, Figures } from './book-entry.ts';
import type { BookRecords, BookStatement } from './book-records.ts';
import { exchanged } from './exchange.ts';

/** An amount of the books told in the mill's currency, by the last rate on or before its day. */
interface Told {
  /** Null where there is no rate: it adds nothing, and a finding says so. */
  amount: string | null;
  /** How it was told, for the entry's label; empty in the mill's own currency. */
  words: string;
}

/**
 * Statements, payments, purchases, counts and expenses of a range as entries, in the mill's currency at the rate of
 * their day. What is paid for royalties and taxes that statements have already charged is told apart from costs:
 * `expense/royalty-paid` and `expense/tax-paid`.
 */
export function moneyEntries(records: BookRecords): { entries: BookEntry[]; findings: Finding[] } {
  const findings: Finding[] = [];
  const told = (amount: string, currency: string, on: string): Told => {
    const { currency: millCurrency, rates } = records;
    const {
      amount: inMills,
      rate,
      findings: said,
    } = exchanged({ amount, currency, on, millCurrency, rates });
    findings.push(...said);
    return {
      amount: inMills,
      words: currency === millCurrency ? '' : `, ${amount} ${currency}${rate === null ? '' : ` at ${rate}`}`,
    };
  };
  const entry = (key: string, on: string, ref: EntryRef, label: string, figures: Figures): BookEntry => ({
    key: `${key}:${ref.id}`,
    on,
    label,
    ref,
    figures,
  });
  const kindOf = new Map(records.supplies.map(({ id, kind }) => [id, kind]));
  const nameOf = new Map(records.supplies.map(({ id, name }) => [id, name]));
  const differences = new Map(records.stockEntries.map((one) => [one.key, one]));

  const entries = [
    ...records.statements.map((one) => {
      const { amount, words } = told(one.brings, one.currency, one.issuedOn);
      return entry(
        'statement',
        one.issuedOn,
        { table: 'statement', id: one.id },
        `Statement ${one.number}, ${one.buyerName}${words}`,
        { statements: '1', ...money('settled', amount), ...payableChange(one) },
      );
    }),
    ...records.payments.map((one) => {
      const { amount, words } = told(one.amount, one.currency, one.paidOn);
      const signed = amount && (one.millSells ? amount : new Dec(amount).negated().toFixed(2));
      return entry(
        'payment',
        one.paidOn,
        { table: 'statement_payment', id: one.id },
        `Payment on ${one.statementNumber}, ${one.buyerName}${words}`,
        money('paid', signed),
      );
    }),
    ...records.lotPurchases.map((one) => {
      const { amount, words } = told(one.amount, one.currency, one.boughtOn);
      return entry(
        'lot-purchase',
        one.boughtOn,
        { table: 'lot', id: one.lotId },
        `Lot ${one.lotCode} bought${words}`,
        money('concentrateBought', amount),
      );
    }),
    ...records.supplyPurchases.map((one) => {
      const { amount, words } = told(one.amount, one.currency, one.boughtOn);
      return entry(
        'purchase',
        one.boughtOn,
        { table: 'supply_purchase', id: one.id },
        `${nameOf.get(one.supplyId) ?? 'A supply'} bought${words}`,
        {
          ...money(`bought/${kindOf.get(one.supplyId) ?? 'other'}`, amount),
          ...money('stockDifference', negated(differences.get(`purchase:${one.id}`)?.shortfallAmount)),
        },
      );
    }),
    ...records.supplyCounts.map((one) => {
      const difference = differences.get(`count:${one.id}`);
      return entry(
        'count',
        one.countedOn,
        { table: 'supply_count', id: one.id },
        `${nameOf.get(one.supplyId) ?? 'A supply'} counted`,
        money('stockDifference', negated(difference?.opens === true ? null : difference?.amount)),
      );
    }),
    ...records.expenses.map((one) => {
      const { amount, words } = told(one.amount, one.currency, one.spentOn);
      return entry(
        'expense',
        one.spentOn,
        { table: 'expense', id: one.id },
        `Expense${one.payee === '' ? '' : ` to ${one.payee}`}${words}`,
        money(`expense/${one.kind}`, amount),
      );
    }),
  ];
  return { entries, findings };
}

/** What a gain of the stock takes off the costs. */
function negated(amount: string | null | undefined): string | null {
  return amount == null ? null : new Dec(amount).negated().toFixed(2);
}

function money(name: string, amount: string | null): Figures {
  return amount === null || new Dec(amount).isZero() ? {} : { [name]: amount };
}

/** Payable metal that a statement adds to what the one before it said. */
function payableChange({ payableOzt, payableBeforeOzt }: BookStatement): Figures {
  const change = (metal: 'Au' | 'Ag'): DecimalNumber =>
    payableOzt[metal] === null ? new Dec(0) : new Dec(payableOzt[metal]).minus(payableBeforeOzt[metal] ?? 0);
  return {
    ...money('payableGoldOzt', change('Au').toFixed()),
    ...money('payableSilverOzt', change('Ag').toFixed()),
  };
}
