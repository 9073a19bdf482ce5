import type { Kysely } from 'kysely';
import { splitChange } from './calc/settlement/split-change.ts';
import { eventsNamed } from './calc/terms/events-named.ts';
import { paymentDueOn } from './calc/terms/payment-due.ts';
import { isQuoted, quotedBases } from './calc/terms/price-bases.ts';
import { dateOfEvent, priceFromQuotations } from './calc/terms/price-period.ts';
import { termsSentences } from './calc/terms/terms-sentences.ts';
import { findMill } from '../db/queries/mill.ts';
import { findStatement, findStatements, type KeptStatement } from '../db/queries/statements.ts';
import { statementReport } from '../reports/model/statement-report.ts';
import type {
  Party,
  StatementChange,
  StatementQuotations,
  StatementReportInput,
} from '../reports/model/statement-input.ts';
import { EVENT_DAY_WORDS } from '../reports/model/statement-words.ts';
import type { EventName } from './calc/terms/term-units.ts';
import type { Report } from '../reports/model/report.ts';
import type { Database } from '../db/schema.ts';

function partyOf(name: string, address: string): Party {
  return {
    name,
    addressLines: address
      .split('\n')
      .map((line) => line.trim())
      .filter(Boolean),
  };
}

/** The daily prices that the statement's means were taken of, for its annex. */
function quotationsOf({ kept }: KeptStatement): StatementQuotations[] {
  const { terms, prices, dates } = kept.settlementInput;
  return terms.metals.flatMap(({ metal, price }): StatementQuotations[] => {
    const input = prices.find((one) => one.metal === metal);
    const { basis } = price;
    if (input === undefined || input.quotations.length === 0) return [];
    const entered = input.options?.map(({ option }) => option) ?? [];
    const quoted = quotedBases(basis).map((one, index) => ({ one, index }));
    return quoted
      .filter(({ index }) => !entered.includes(index))
      .map(({ one, index }) => ({
        metal: basis.kind === 'choice' ? `${metal}, option ${index + 1}` : metal,
        unit: `${price.currency ?? terms.currency}/${price.unit}`,
        basis: one.source,
        rows: priceFromQuotations({ priceBasis: one, dates, quotations: input.quotations }).quotationsUsed,
      }));
  });
}

/** The days that were entered, and those that the terms count from even while they are not. */
function daysOf({ kept }: KeptStatement): StatementReportInput['days'] {
  const { terms, dates } = kept.settlementInput;
  const named = eventsNamed(terms);
  return (Object.keys(EVENT_DAY_WORDS) as EventName[])
    .map((event) => ({ event, on: dateOfEvent(event, dates) }))
    .filter(({ event, on }) => on !== null || named.has(event));
}

function changeOf(statement: KeptStatement, before: KeptStatement | null): StatementChange | null {
  if (before === null) return null;
  const change = splitChange({ previous: before.kept.settlementInput, next: statement.kept.settlementInput });
  if (change === null) return null;
  return { previousNumber: before.number ?? '', currency: statement.currency, ...change };
}

function provisionalItems({ stage, kept }: KeptStatement): string[] {
  if (stage === 'final' || stage === 'adjustment') return [];
  const items = ['Weights, moisture and assays until they are exchanged and settled.'];
  for (const { metal, price } of kept.settlementInput.terms.metals)
    if (isQuoted(price.basis)) items.push(`The price of ${metal} until its quotational period is over.`);
  return items;
}

/** A statement as a report: the same for the page and the print. */
export async function statementDocument(db: Kysely<Database>, id: string): Promise<Report> {
  const statement = await findStatement(db, id);
  const before = statement.supersedesId === null ? null : await findStatement(db, statement.supersedesId);
  return documentOf({ statement, before, mill: await findMill(db) });
}

/** Some statements as reports, by id, read together. */
export async function statementDocuments(
  db: Kysely<Database>,
  ids: readonly string[],
): Promise<Map<string, Report>> {
  const statements = await findStatements(db, ids);
  const earlierIds = [...statements.values()].flatMap(({ supersedesId }) => supersedesId ?? []);
  const earlier = earlierIds.length === 0 ? statements : await findStatements(db, earlierIds);
  const mill = await findMill(db);
  return new Map(
    [...statements].map(([id, statement]) => [
      id,
      documentOf({ statement, before: earlier.get(statement.supersedesId ?? '') ?? null, mill }),
    ]),
  );
}

function documentOf({
  statement,
  before,
  mill,
}: {
  statement: KeptStatement;
  /** The one that it follows. */
  before: KeptStatement | null;
  mill: Awaited<ReturnType<typeof findMill>>;
}): Report {
  const { terms } = statement.kept.settlementInput;
  const us = partyOf(mill.name, mill.address);
  const them = partyOf(statement.counterpartyName, statement.counterpartyAddress);
  return statementReport({
    settlement: statement.settlement,
    statement: {
      number: statement.number,
      stage: statement.stage,
      issuedOn: statement.issuedOn ?? statement.entry.dates.statementOn,
      supersedes: statement.supersedesNumber,
      isDraft: statement.status === 'draft',
    },
    seller: millSells(statement) ? us : them,
    buyer: millSells(statement) ? them : us,
    material: terms.material,
    parcelName: `${statement.productCode} of batch ${statement.batchCode}`,
    termsName: statement.termsName,
    termsSentences: termsSentences(terms),
    days: daysOf(statement),
    dueOn: paymentDueOn(statement.kept.settlementInput),
    quotations: quotationsOf(statement),
    changeFromPrevious: changeOf(statement, before),
    provisionalItems: provisionalItems(statement),
    isDemo: mill.isDemo,
  });
}

/** Who buys or treats other people's material is the buyer of the statement, and owes its total. */
export function millSells(statement: KeptStatement): boolean {
  return statement.kept.settlementInput.terms.direction === 'we-sell';
}
