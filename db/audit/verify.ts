import { createHash } from 'node:crypto';
import { sql, type Kysely } from 'kysely';
import { notWatched } from './not-watched.ts';
import { issuedStatements, type StatementHistory } from './issued-statements.ts';
import type { Database } from '../schema.ts';

export interface AuditVerdict {
  /** What does not hold, each in one sentence; none where everything does. */
  faults: string[];
  entryCount: number;
  statementCount: number;
  head: { sequence: string; hash: string };
  /** The entry whose fingerprint was noted earlier; null where none was asked for or it is not in the chain. */
  noted: string | null;
}

const AT_ONCE = 2000;
/** A broken chain is broken from there on: more of the same says nothing new. */
const MOST_FAULTS = 20;

interface ChainRow {
  sequence: string;
  previousHash: string;
  hash: string;
  text: string;
  table: string;
  recordId: string | null;
  action: string;
  /** Of a statement: its fields, each as the text that jsonb writes, which keeps every digit. */
  after: Record<string, string> | null;
}

/**
 * Works the whole chain again, outside the database: each entry's fingerprint is the SHA-256 (FIPS 180-4) of the
 * fingerprint before it and of the entry's own text. Then holds the issued statements against what the audit says
 * was issued, and looks whether every table is still watched. A fingerprint that was noted earlier must be that of an
 * entry. Reads only.
 */
export async function verifyAudit(db: Kysely<Database>, notedHash?: string): Promise<AuditVerdict> {
  return db
    .transaction()
    .setIsolationLevel('repeatable read')
    .setAccessMode('read only')
    .execute(async (trx) => {
      const faults: string[] = [];
      const statements = new Map<string, StatementHistory>();
      let last = { sequence: 0n, hash: '0'.repeat(64) };
      let noted: string | null = null;
      for (;;) {
        const rows = await nextEntries(trx, last.sequence);
        for (const row of rows) {
          faults.push(...faultsOf(row, last));
          if (row.table === 'statement' && row.recordId !== null) followStatement(statements, row);
          if (row.hash === notedHash) noted = row.sequence;
          last = { sequence: BigInt(row.sequence), hash: row.hash };
        }
        if (rows.length < AT_ONCE || faults.length > MOST_FAULTS) break;
      }
      const entryCount = Number(last.sequence);
      const head = await trx.selectFrom('auditHead').select(['sequence', 'hash']).executeTakeFirst();
      if (
        faults.length <= MOST_FAULTS &&
        (head?.sequence !== String(last.sequence) || head.hash !== last.hash)
      )
        faults.push(
          `The audit ends at entry ${last.sequence}, but its head says ${head?.sequence ?? 'nothing'}: entries at the end were removed or altered.`,
        );
      faults.push(...(await looseEntries(trx)), ...(await unwatchedTables(trx)));
      if (notedHash !== undefined && noted === null)
        faults.unshift(
          'No entry of the audit has the fingerprint that you noted: what was written up to it was altered or removed, or these are other books, or a backup from before it was noted.',
        );
      const issued = await issuedStatements(trx, statements);
      faults.push(...issued.faults);
      return {
        faults: faults.slice(0, MOST_FAULTS),
        entryCount,
        statementCount: issued.count,
        head: { sequence: String(last.sequence), hash: last.hash },
        noted,
      };
    });
}

/** The text is put together here and not by the database's own function, which could have been replaced. */
async function nextEntries(trx: Kysely<Database>, after: bigint): Promise<ChainRow[]> {
  const { rows } = await sql<ChainRow>`
    select sequence, previous_hash, hash, table_name as table, record_id, action,
      case when table_name = 'statement' then
        (select jsonb_object_agg(key, value::text) from jsonb_each(after)) end as after,
      jsonb_build_array(sequence, to_char(at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'),
        actor, account_id, request_id, transaction_id, table_name, action,
        record_id, owner_id, row_key, row_count, before, after)::text as text
    from audit_entry where sequence > ${String(after)}::bigint order by sequence limit ${AT_ONCE}`.execute(
    trx,
  );
  return rows;
}

function faultsOf(row: ChainRow, last: { sequence: bigint; hash: string }): string[] {
  const faults: string[] = [];
  if (BigInt(row.sequence) !== last.sequence + 1n)
    faults.push(
      `After entry ${last.sequence} of the audit comes ${row.sequence}: entries between were removed.`,
    );
  if (row.previousHash !== last.hash)
    faults.push(`Entry ${row.sequence} of the audit does not follow from the one before it.`);
  const expected = createHash('sha256').update(`${row.previousHash}\n${row.text}`).digest('hex');
  if (row.hash !== expected)
    faults.push(`Entry ${row.sequence} of the audit was altered after it was written.`);
  return faults;
}

function followStatement(statements: Map<string, StatementHistory>, row: ChainRow): void {
  const id = row.recordId ?? '';
  const before = statements.get(id);
  if (row.action === 'delete') statements.set(id, { state: before?.state ?? {}, removedBy: row.sequence });
  else statements.set(id, { state: { ...before?.state, ...row.after }, removedBy: null });
}

async function looseEntries(trx: Kysely<Database>): Promise<string[]> {
  const { count } = await trx
    .selectFrom('auditEntry')
    .select(({ fn }) => fn.countAll<string>().as('count'))
    .where('sequence', 'is', null)
    .executeTakeFirstOrThrow();
  return count === '0' ? [] : [`${count} entries of the audit stand outside its chain.`];
}

/** Names of tables that have lost a trigger, or had it turned off. */
async function unwatchedTables(trx: Kysely<Database>): Promise<string[]> {
  const { rows } = await sql<{ name: string }>`
    select tablename as name from pg_tables where schemaname = current_schema()
      and (select count(*) from pg_trigger where tgrelid = format('%I.%I', schemaname, tablename)::regclass
        and tgname in ('audit_insert', 'audit_update', 'audit_delete', 'audit_truncate') and tgenabled = 'O') < 4
    order by tablename`.execute(trx);
  const chain = await sql<{ enabled: boolean }>`select tgenabled = 'O' as enabled from pg_trigger
    where tgrelid = 'audit_entry'::regclass and tgname = 'audit_chain'`.execute(trx);
  return [
    ...rows
      .filter(({ name }) => !Object.hasOwn(notWatched, name))
      .map(
        ({ name }) => `The table ${name} is not watched by the audit: its triggers are gone or turned off.`,
      ),
    ...(chain.rows[0]?.enabled === true
      ? []
      : ['New entries are not chained: the trigger of the audit is gone or turned off.']),
  ];
}
