import { sql, type Kysely } from 'kysely';
import type { BookedStatement } from '../../api/calc/books/statement-entries.ts';
import type { BookedLine } from '../../api/calc/books/statement-position.ts';
import { Dec } from '../../api/calc/money.ts';
import { paymentDueOn } from '../../api/calc/terms/payment-due.ts';
import type { SettlementDates } from '../../api/calc/terms/price-period.ts';
import type { PaymentTerms, Terms } from '../../api/calc/terms/terms.ts';
import type { Database } from '../schema.ts';

/** Of a settlement's lines those that are booked, without their workings: a season's statements are large. */
const bookedLines = sql<BookedLine[] | null>`(
  select jsonb_agg(jsonb_build_object('id', line -> 'id', 'section', line -> 'section', 'label', line -> 'label',
    'amount', line -> 'amount', 'result', line -> 'result') order by place)
  from jsonb_array_elements(statement.settlement -> 'lines') with ordinality as one (line, place)
  where line ->> 'amount' is not null or line ->> 'section' = 'royalties')`;

/** A statement as it is booked, and what it follows. */
export interface IssuedStatement extends BookedStatement {
  supersedesId: string | null;
  seasonId: string;
}

/** All statements issued up to a day, in the order of their numbers, as they are booked. */
export async function bookedStatements(db: Kysely<Database>, to: string): Promise<IssuedStatement[]> {
  const rows = await db
    .selectFrom('statement')
    .innerJoin('product', 'product.id', 'statement.productId')
    .innerJoin('batch', 'batch.id', 'product.batchId')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .innerJoin('terms', 'terms.id', 'statement.termsId')
    .innerJoin('counterparty', 'counterparty.id', 'terms.counterpartyId')
    .select([
      'statement.id',
      sql<string>`statement.number`.as('number'),
      'statement.stage',
      sql<string>`statement.issued_on::text`.as('issuedOn'),
      'statement.supersedesId',
      'statement.productId',
      'product.code as productCode',
      'lot.seasonId',
      'counterparty.name as buyerName',
      'statement.total',
      'statement.currency',
      'terms.body',
      bookedLines.as('lines'),
    ])
    .where('statement.status', '=', 'issued')
    .where('statement.issuedOn', '<=', to)
    .orderBy(sql`length(statement.number)`)
    .orderBy('statement.number')
    .execute();
  return rows.map(({ total, body, lines, ...row }) => {
    const { direction, royalties } = body as Pick<Terms, 'direction' | 'royalties'>;
    const millSells = direction === 'we-sell';
    return {
      ...row,
      millSells,
      brings: millSells ? total : new Dec(total).negated().toFixed(),
      productionTaxes: royalties.flatMap(({ kind, name }) => (kind === 'production-tax' ? [name] : [])),
      lines: lines ?? [],
    };
  });
}

/** By SQL alone, to hold the journal against: what was recorded in a range of days, by currency, from the mill's side. */
export async function recordedTotals(
  db: Kysely<Database>,
  { from, to }: { from: string; to: string },
): Promise<
  { what: 'statements' | 'payments' | 'supplies' | 'lots' | 'expenses'; currency: string; amount: string }[]
> {
  const { rows } = await sql<{
    what: 'statements' | 'payments' | 'supplies' | 'lots' | 'expenses';
    currency: string;
    amount: string;
  }>`
    select 'statements' as what, statement.currency,
      sum(case when terms.body ->> 'direction' = 'we-sell' then total else -total end)::text as amount
      from statement join terms on terms.id = terms_id
      where status = 'issued' and issued_on between ${from}::date and ${to}::date group by 2
    union all
    select 'payments', statement.currency,
      sum(case when (statement.total < 0) = (terms.body ->> 'direction' = 'we-sell') and statement.total <> 0
        then -counts_as else counts_as end)::text
      from statement_payment join statement on statement.id = statement_id join terms on terms.id = terms_id
      where greatest(paid_on, issued_on) between ${from}::date and ${to}::date group by 2
    union all
    select 'supplies', currency, sum(amount)::text from supply_purchase
      where bought_on between ${from}::date and ${to}::date group by 2
    union all
    select 'lots', currency, sum(amount)::text from lot_purchase
      where bought_on between ${from}::date and ${to}::date group by 2
    union all
    select 'expenses', currency, sum(amount)::text from expense
      where spent_on between ${from}::date and ${to}::date group by 2
    order by 1, 2`.execute(db);
  return rows;
}

/** The days by which some statements are to be paid; null where the terms name none. */
export async function statementDueDays(
  db: Kysely<Database>,
  ids: readonly string[],
): Promise<Map<string, string | null>> {
  if (ids.length === 0) return new Map();
  const rows = await db
    .selectFrom('statement')
    .innerJoin('terms', 'terms.id', 'statement.termsId')
    .select([
      'statement.id',
      'statement.stage',
      sql<PaymentTerms[]>`terms.body -> 'payment'`.as('payment'),
      sql<SettlementDates>`statement.input #> '{settlementInput,dates}'`.as('dates'),
    ])
    .where('statement.id', '=', sql<string>`any(${ids}::uuid[])`)
    .execute();
  return new Map(
    rows.map(({ id, stage, payment, dates }) => [
      id,
      // An adjustment is settled as a final statement is.
      paymentDueOn({ terms: { payment }, stage: stage === 'adjustment' ? 'final' : stage, dates }),
    ]),
  );
}
