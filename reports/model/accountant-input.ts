import type { AccountKindName } from '../../api/calc/books/account-kinds.ts';
import type { BookExpense, BookLotPurchase, BookSupplyPurchase } from '../../api/calc/books/book-records.ts';
import type { PeriodBooks } from '../../api/calc/books/period-books.ts';
import type { AgedItem } from '../../api/calc/books/receivables-by-age.ts';

/** An amount that is known from elsewhere, to hold the journal against. */
export interface KnownTotal {
  what: string;
  /** Where it stands. */
  source: string;
  currency: string;
  amount: string;
  /** What these sheets say of it. */
  ours: string;
}

export interface ReceivableRow extends AgedItem {
  issuedOn: string;
  total: string;
  paid: string;
  /** What is open, in the mill's currency at the rate of the statement. */
  booked: string;
  account: AccountKindName;
}

/** All that the accountant's tables are made of. */
export interface AccountantInput {
  millName: string;
  isDemo: boolean;
  currency: string;
  /** The day that the package is made. */
  madeOn: string;
  books: PeriodBooks;
  /** The owner's codes and names, or the suggested ones. */
  accounts: readonly { kind: string; group: string; code: string; name: string }[];
  supplies: readonly { id: string; name: string; unit: string; kind: string }[];
  supplyPurchases: readonly BookSupplyPurchase[];
  lotPurchases: readonly BookLotPurchase[];
  expenses: readonly BookExpense[];
  receivables: readonly ReceivableRow[];
  known: readonly KnownTotal[];
  /** Plain sentences about what is doubtful in the records. */
  remarks: readonly string[];
  closedMonths: readonly string[];
}
