import { sql, type Kysely } from 'kysely';
import { inTransaction } from './in-transaction.ts';
import { NotFound, Refused } from './changed.ts';
import { pageOf, type PageAsked, type Paged } from './page.ts';
import { lockVersion } from './versioned.ts';
import { paymentDueOn } from '../../api/calc/terms/payment-due.ts';
import type { SettlementDates } from '../../api/calc/terms/price-period.ts';
import type { PaymentTerms } from '../../api/calc/terms/terms.ts';
import type { SettlementInput } from '../../api/calc/settlement/input.ts';
import type { Settlement } from '../../api/calc/settlement/statement.ts';
import type { Statement, StatementEntry, StatementSummary } from '../../api/schemas/statement.ts';
import type { Database } from '../schema.ts';

/** What a statement was worked from, kept whole, so that it can be worked again years later. */
export interface KeptInput {
  entry: StatementEntry;
  settlementInput: SettlementInput;
}

function selectStatements(db: Kysely<Database>) {
  return db
    .selectFrom('statement')
    .innerJoin('product', 'product.id', 'statement.productId')
    .innerJoin('batch', 'batch.id', 'product.batchId')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .innerJoin('terms', 'terms.id', 'statement.termsId')
    .innerJoin('counterparty', 'counterparty.id', 'terms.counterpartyId')
    .leftJoin('statement as earlier', 'earlier.id', 'statement.supersedesId')
    .select([
      'statement.id',
      'statement.number',
      'statement.stage',
      'statement.status',
      'statement.issuedOn',
      'statement.supersedesId',
      'earlier.number as supersedesNumber',
      'statement.productId',
      'product.code as productCode',
      'product.batchId',
      'batch.code as batchCode',
      'lot.seasonId',
      'statement.termsId',
      'terms.name as termsName',
      'counterparty.name as counterpartyName',
      'counterparty.address as counterpartyAddress',
      'statement.total',
      'statement.currency',
      'statement.version',
      sql<PaymentTerms[]>`statement.input #> '{settlementInput,terms,payment}'`.as('paymentTerms'),
      sql<SettlementDates>`statement.input #> '{settlementInput,dates}'`.as('dates'),
    ])
    .select((row) =>
      row
        .selectFrom('statementPayment')
        .whereRef('statementPayment.statementId', '=', 'statement.id')
        .select(({ fn }) => fn.coalesce(fn.sum<string>('countsAs'), sql<string>`0`).as('paid'))
        .$castTo<{ paid: string }>()
        .as('paid'),
    )
    .orderBy(sql`length(statement.number)`)
    .orderBy('statement.number')
    .orderBy('statement.createdAt');
}

/** With what they were worked from, which is large: a list of statements does without. */
function selectKept(db: Kysely<Database>) {
  return selectStatements(db).select(['statement.input', 'statement.settlement']);
}

type SummaryRow = Awaited<ReturnType<ReturnType<typeof selectStatements>['execute']>>[number];
type KeptRow = Awaited<ReturnType<ReturnType<typeof selectKept>['execute']>>[number];

function summaryOf(row: SummaryRow): StatementSummary {
  const {
    supersedesId: _supersedesId,
    seasonId: _seasonId,
    counterpartyAddress: _address,
    paymentTerms,
    dates,
    paid,
    ...summary
  } = row;
  // An adjustment is settled as a final statement is.
  const stage = row.stage === 'adjustment' ? 'final' : row.stage;
  const dueOn =
    row.status === 'draft' ? null : paymentDueOn({ terms: { payment: paymentTerms }, stage, dates });
  return { ...summary, dueOn, paid: paid ?? '0' };
}

interface StatementFilter {
  productIds?: readonly string[] | undefined;
  seasonId?: string | undefined;
  status?: 'draft' | 'issued' | undefined;
  /** Issued, and not paid to the cent. */
  unpaid?: boolean | undefined;
  /** Issued on or after, and on or before, a day. */
  firstDay?: string | undefined;
  lastDay?: string | undefined;
  /** Only what was issued under terms with a counterparty. */
  issuedTo?: string | undefined;
}

function selectSome(db: Kysely<Database>, filter: StatementFilter) {
  let query = selectStatements(db);
  if (filter.issuedTo !== undefined)
    query = query
      .where('terms.counterpartyId', '=', filter.issuedTo)
      .where('statement.status', '=', 'issued');
  if (filter.firstDay !== undefined) query = query.where('statement.issuedOn', '>=', filter.firstDay);
  if (filter.lastDay !== undefined) query = query.where('statement.issuedOn', '<=', filter.lastDay);
  if (filter.productIds !== undefined)
    query = query.where('statement.productId', '=', sql<string>`any(${filter.productIds}::uuid[])`);
  if (filter.seasonId !== undefined) query = query.where('lot.seasonId', '=', filter.seasonId);
  if (filter.status !== undefined) query = query.where('statement.status', '=', filter.status);
  if (filter.unpaid === true)
    query = query.where('statement.status', '=', 'issued').where(
      sql<boolean>`abs(statement.total) <> coalesce((select sum(counts_as) from statement_payment
        where statement_payment.statement_id = statement.id), 0)`,
    );
  return query;
}

/** All statements that a filter leaves, issued ones in the order of their numbers. */
export async function listStatements(
  db: Kysely<Database>,
  filter: StatementFilter,
): Promise<StatementSummary[]> {
  return (await selectSome(db, filter).execute()).map(summaryOf);
}

/** Issued statements in the order of their numbers, then drafts as they were begun, a page of them. */
export async function pageOfStatements(
  db: Kysely<Database>,
  filter: StatementFilter,
  page: PageAsked,
): Promise<Paged<StatementSummary>> {
  const order = {
    by: [
      "(statement.status = 'draft')",
      'coalesce(length(statement.number), 0)',
      "coalesce(statement.number, '')",
      'statement.created_at',
      'statement.id',
    ],
    from: 'statement',
  };
  const { rows, next } = await pageOf(db, selectSome(db, filter), order, page);
  return { rows: rows.map(summaryOf), next };
}

/** A statement with all it was worked from, for its page, its print and the next one of the chain. */
export interface KeptStatement extends Statement {
  kept: KeptInput;
  supersedesId: string | null;
  counterpartyAddress: string;
}

function keptOf({ input, settlement, ...row }: KeptRow): KeptStatement {
  const kept = input as KeptInput;
  return {
    ...summaryOf(row),
    entry: kept.entry,
    settlement: settlement as Settlement,
    kept,
    supersedesId: row.supersedesId,
    counterpartyAddress: row.counterpartyAddress,
  };
}

export async function findStatement(db: Kysely<Database>, id: string): Promise<KeptStatement> {
  const row = await selectKept(db).where('statement.id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('statement');
  return keptOf(row);
}

/** Some statements, by id, with all they were worked from. */
export async function findStatements(
  db: Kysely<Database>,
  ids: readonly string[],
): Promise<Map<string, KeptStatement>> {
  const rows = await selectKept(db)
    .where('statement.id', '=', sql<string>`any(${ids}::uuid[])`)
    .execute();
  return new Map(rows.map((row) => [row.id, keptOf(row)]));
}

/** The issued statements of a season in the order of their numbers, with their lines. */
export async function listIssued(db: Kysely<Database>, seasonId: string): Promise<KeptStatement[]> {
  const rows = await selectKept(db)
    .where('statement.status', '=', 'issued')
    .where('lot.seasonId', '=', seasonId)
    .execute();
  return rows.map(keptOf);
}

/** The issued statements of one product, oldest first. */
export async function issuedOfProduct(db: Kysely<Database>, productId: string): Promise<KeptStatement[]> {
  const rows = await selectKept(db)
    .where('statement.status', '=', 'issued')
    .where('statement.productId', '=', productId)
    .execute();
  return rows.map(keptOf);
}

function columnsOf(input: KeptInput, settlement: Settlement, supersedesId: string | null) {
  return {
    productId: input.entry.productId,
    termsId: input.entry.termsId,
    stage: input.entry.stage,
    supersedesId,
    input: JSON.stringify(input),
    settlement: JSON.stringify(settlement),
    total: settlement.total,
    currency: settlement.currency,
  };
}

export interface WorkedStatement {
  input: KeptInput;
  settlement: Settlement;
  supersedesId: string | null;
}

export async function insertDraft(
  db: Kysely<Database>,
  { input, settlement, supersedesId }: WorkedStatement,
): Promise<KeptStatement> {
  const id = crypto.randomUUID();
  await db
    .insertInto('statement')
    .values({ id, status: 'draft', ...columnsOf(input, settlement, supersedesId) })
    .execute();
  return findStatement(db, id);
}

export async function updateDraft(
  db: Kysely<Database>,
  id: string,
  version: number,
  { input, settlement, supersedesId }: WorkedStatement,
): Promise<KeptStatement> {
  return inTransaction(db, async (trx) => {
    await lockVersion(trx, 'statement', 'statement', id, version);
    await requireDraft(trx, id);
    await trx
      .updateTable('statement')
      .set({ ...columnsOf(input, settlement, supersedesId), version: version + 1 })
      .where('id', '=', id)
      .execute();
    return findStatement(trx, id);
  });
}

async function requireDraft(db: Kysely<Database>, id: string): Promise<KeptStatement> {
  const statement = await findStatement(db, id);
  if (statement.status === 'issued')
    throw new Refused(
      '/status',
      `is issued: statement ${statement.number} stays as it is and can only be followed by another`,
    );
  return statement;
}

export async function deleteDraft(db: Kysely<Database>, id: string): Promise<void> {
  await inTransaction(db, async (trx) => {
    await requireDraft(trx, id);
    await trx.deleteFrom('statement').where('id', '=', id).execute();
  });
}

/** One number after the other without a gap: whoever issues waits for the one before to be done. */
const ISSUING_LOCK = 7_031_104;

export async function issueDraft(
  db: Kysely<Database>,
  id: string,
  version: number,
  issuedOn: string,
): Promise<KeptStatement> {
  return inTransaction(db, async (trx) => {
    await sql`select pg_advisory_xact_lock(${ISSUING_LOCK})`.execute(trx);
    await lockVersion(trx, 'statement', 'statement', id, version);
    const draft = await requireDraft(trx, id);
    const blocker = draft.settlement.findings.find((finding) => finding.level === 'blocker');
    if (blocker !== undefined) throw new Refused('/settlement', `cannot be issued: ${blocker.sentence}`);
    const latest = (await issuedOfProduct(trx, draft.productId)).at(-1) ?? null;
    if ((latest?.id ?? null) !== draft.supersedesId)
      throw new Refused(
        '/settlement',
        'cannot be issued: another statement was issued for this product since this draft was begun. Begin a new draft, which starts from that one',
      );
    const { count } = await trx
      .selectFrom('statement')
      .select(({ fn }) => fn.countAll<string>().as('count'))
      .where('status', '=', 'issued')
      .executeTakeFirstOrThrow();
    await trx
      .updateTable('statement')
      .set({
        status: 'issued',
        number: `S-${String(Number(count) + 1).padStart(4, '0')}`,
        issuedOn,
        version: version + 1,
      })
      .where('id', '=', id)
      .execute();
    return findStatement(trx, id);
  });
}
