import { monthName, sumFigures, type Figures } from '../../api/calc/books/book-entry.ts';
import { journalFigures } from '../../api/calc/books/journal-figures.ts';
import { costsByKind, monthResult } from '../../api/calc/books/month-figures.ts';
import type { AccountantInput } from './accountant-input.ts';
import type { Check } from './accountant-checks.ts';

/**
 * What the reports of the months print against what the journal has booked in each of them, and all of them together
 * against the season's summary, which adds the months up.
 */
export function monthChecks(input: AccountantInput): Check[] {
  const { books, reported, supplies } = input;
  const booked = new Map(
    reported.map(({ month }) => [
      month,
      journalFigures(
        books.entries.filter(({ on }) => monthName(on) === month),
        supplies,
      ),
    ]),
  );
  const checks = reported.flatMap(({ month, figures }) =>
    checksOf(input.currency, `Month ${month}`, 'Month report, Journal', figures, booked.get(month) ?? {}),
  );
  if (reported.length < 2) return checks;
  return [
    ...checks,
    ...checksOf(
      input.currency,
      `Months ${reported[0]?.month} to ${reported.at(-1)?.month}`,
      'Season summary, Journal',
      sumFigures(reported.map(({ figures }) => figures)),
      sumFigures(booked.values()),
    ),
  ];
}

function checksOf(
  currency: string,
  name: string,
  source: string,
  printed: Figures,
  booked: Figures,
): Check[] {
  const check = (what: string, figure: string, ours: string): Check => ({
    what: `${name}: ${what}`,
    source,
    currency,
    figure,
    ours,
  });
  const [report, journal] = [costsByKind(printed), costsByKind(booked)];
  const kinds = [...new Set([...report, ...journal].map(({ kind }) => kind))];
  const costOf = (costs: typeof report, kind: string): string =>
    costs.find((one) => one.kind === kind)?.total ?? '0.00';
  const [shown, own] = [monthResult(printed), monthResult(booked)];
  return [
    check('statements', shown.settled, own.settled),
    ...kinds.map((kind) => check(kind, costOf(report, kind), costOf(journal, kind))),
    check('all costs', shown.costs, own.costs),
    check('royalties, taxes and wages paid', shown.paidOnAccount, own.paidOnAccount),
  ];
}
