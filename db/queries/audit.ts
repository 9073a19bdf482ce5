import { sql, type Kysely, type Selectable } from 'kysely';
import { snakeCase } from '../audit/camel-case.ts';
import { netFields, type NameOf } from '../audit/net-fields.ts';
import { tableWords } from '../audit/words.ts';
import { entriesOfSteps, newestSteps } from './audit-steps.ts';
import { groupBy } from './group-by.ts';
import type { SeenRecord } from './changed.ts';
import type { AuditQuery, Change, ChangedField, ChangedRecord, ChangeList } from '../../api/schemas/audit.ts';
import type { AuditEntryTable, Database } from '../schema.ts';

type Entry = Selectable<AuditEntryTable> & { sequence: string };

const CHANGES_A_PAGE = 50;
/** Of a change of thousands of rows, so many are listed. */
const LISTED_ENTRIES = 100;

/** What was changed, newest first, by whom and from what to what. */
export async function listChanges(db: Kysely<Database>, query: AuditQuery): Promise<ChangeList> {
  const { limit = CHANGES_A_PAGE } = query;
  const found = await newestSteps(db, { ...query, limit: limit + 1 });
  const page = found.slice(0, limit);
  const rows = await entriesOfSteps<Entry>(db, page, query, LISTED_ENTRIES);
  const nameOf = await namesIn(db, rows.flat());
  const head = await db.selectFrom('auditHead').select(['sequence', 'hash']).executeTakeFirstOrThrow();
  const last = page.at(-1);
  return {
    changes: rows.flatMap((group, place) => {
      const { last: sequence = '0', count = '0' } = page[place] ?? {};
      return changeOf(group, nameOf, sequence, Number(count));
    }),
    next: found.length > limit && last !== undefined ? last.last : null,
    head,
  };
}

function changeOf(entries: readonly Entry[], nameOf: NameOf, sequence: string, entryCount: number): Change[] {
  const [first] = entries;
  if (first === undefined) return [];
  const { at, actor, accountId, requestId } = first;
  const records = recordsOf(entries, nameOf);
  return records.length === 0 ? [] : [{ sequence, at, actor, accountId, requestId, entryCount, records }];
}

/** The entries of one change by record: several of one row count as one, from its state before to that after. */
function recordsOf(entries: readonly Entry[], nameOf: NameOf): ChangedRecord[] {
  const rows = groupBy([...entries], ({ tableName, rowKey, sequence }) =>
    rowKey === null ? sequence : `${tableName} ${JSON.stringify(rowKey)}`,
  );
  return [...rows.values()].flatMap((group): ChangedRecord[] => {
    const [first, last] = [group[0], group.at(-1)];
    if (first === undefined || last === undefined) return [];
    const isMany = first.rowKey === null;
    const fields = isMany ? [] : netFields(group, nameOf);
    const wasThere = first.action === 'update' || first.action === 'delete';
    const isThere = last.action !== 'delete';
    if (!isMany && fields.length === 0 && wasThere === isThere) return [];
    const action =
      isMany || group.length === 1 ? last.action : !wasThere ? 'insert' : isThere ? 'update' : 'delete';
    return [
      {
        sequence: last.sequence,
        table: last.tableName,
        kind: tableWords(last.tableName),
        recordId: last.recordId,
        name: nameIn(last) ?? (last.recordId === null ? null : (nameOf(last.recordId) ?? null)),
        action,
        rowCount: Number(last.rowCount),
        fields,
      },
    ];
  });
}

function nameIn({ before, after, rowKey, recordId }: Entry): string | null {
  if (rowKey?.[0]?.[0] !== 'id')
    return rowKey === null || rowKey[0]?.[0].endsWith('_id') === true ? null : recordId;
  const row = { ...before, ...after };
  for (const column of ['code', 'name', 'number', 'sample'])
    if (typeof row[column] === 'string') return row[column];
  return null;
}

/** What the records that entries name are called today; those that are gone keep their id. */
async function namesIn(db: Kysely<Database>, entries: readonly Entry[]): Promise<NameOf> {
  const ids = new Set<string>();
  const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
  const note = (value: unknown): void => {
    if (typeof value === 'string' && uuid.test(value)) ids.add(value);
  };
  for (const { recordId, rowKey, before, after } of entries) {
    note(recordId);
    for (const [, value] of rowKey ?? []) note(value);
    for (const value of Object.values({ ...before })) note(value);
    for (const value of Object.values({ ...after })) note(value);
  }
  const { rows } = await sql<{ id: string; name: string }>`
    select id, name from (
      select id, code as name from lot union all select id, name from season union all
      select id, name from balance union all select id, name from supply union all
      select id, name from treatment union all select id, name from counterparty union all
      select id, name from terms union all select id, name from trial union all
      select id, sample from test_smelt union all select id, code from batch union all
      select id, code from product union all select id, coalesce(number, 'draft') from statement
    ) as named where id = any(${[...ids]}::uuid[])`.execute(db);
  const names = new Map(rows.map(({ id, name }) => [id, name]));
  return (id) => names.get(id);
}

/** Who changed a record since the version in which it was seen, and what. */
export interface ChangeSince {
  at: string;
  actor: string;
  fields: ChangedField[];
}

/** What became of a record and its parts since the version in which it was seen, oldest first. */
export async function changesSince(db: Kysely<Database>, seen: SeenRecord): Promise<ChangeSince[]> {
  if (seen.version === null) return [];
  const table = snakeCase(seen.table);
  const { rows } = await sql<Entry>`
    with superseded as (
      select sequence, transaction_id, request_id from audit_entry
      where table_name = ${table} and record_id = ${seen.id} and (before ->> 'version')::integer = ${seen.version}
      order by sequence limit 1)
    select audit_entry.* from audit_entry, superseded
    where audit_entry.record_id = ${seen.id} and (audit_entry.sequence >= superseded.sequence
      or (audit_entry.transaction_id = superseded.transaction_id
        and audit_entry.request_id is not distinct from superseded.request_id))
    order by audit_entry.sequence limit 1000`.execute(db);
  const nameOf = await namesIn(db, rows);
  const steps = groupBy(rows, ({ transactionId, requestId }) => `${transactionId} ${requestId}`);
  return [...steps.values()].flatMap((step) => {
    const [first] = step;
    if (first === undefined) return [];
    const fields = recordsOf(step, nameOf).flatMap((record) => record.fields);
    return fields.length === 0 ? [] : [{ at: first.at, actor: first.actor, fields }];
  });
}
