import type {
  BookExpense,
  BookLotPurchase,
  BookSupply,
  BookSupplyPurchase,
} from '../../api/calc/books/book-records.ts';
import type { PeriodBooks } from '../../api/calc/books/period-books.ts';
import type { Figures } from '../../api/calc/books/book-entry.ts';
import type { MonetaryItem } from '../../api/calc/books/monetary-items.ts';
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

export type AgedMonetaryItem = MonetaryItem & Pick<AgedItem, 'dueOn' | 'age' | 'daysOverdue'>;

/** A month, named `2026-07`, with the figures that its report prints. */
export interface ReportedMonth {
  month: string;
  figures: Figures;
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
  supplies: readonly Pick<BookSupply, 'id' | 'name' | 'unit' | 'kind'>[];
  supplyPurchases: readonly BookSupplyPurchase[];
  lotPurchases: readonly BookLotPurchase[];
  expenses: readonly BookExpense[];
  /** What is open at the end. */
  openItems: readonly AgedMonetaryItem[];
  known: readonly KnownTotal[];
  /** Of the whole months of the period. */
  reported: readonly ReportedMonth[];
  /** Plain sentences about what is doubtful in the records. */
  remarks: readonly string[];
  closedMonths: readonly { month: string; closedOn: string }[];
  /** Those of them whose journal was kept when they were closed. */
  journalsKept: readonly string[];
}
