import { createHash } from 'node:crypto';
import { sql, type Kysely } from 'kysely';
import type { Database } from '../schema.ts';

/** What the audit says of a statement: its fields as last written, each as text of jsonb, and the entry that removed it. */
export interface StatementHistory {
  state: Record<string, string>;
  removedBy: string | null;
}

const ISSUED = '"issued"';

/** Holds the issued statements that are there against those that the audit saw issued. */
export async function issuedStatements(
  trx: Kysely<Database>,
  histories: ReadonlyMap<string, StatementHistory>,
): Promise<{ count: number; faults: string[] }> {
  const faults: string[] = [];
  // Each field as text of jsonb, which is always written alike, and each of one statement at a time: they are long.
  const found = await sql<{ id: string; number: string | null }>`
    select id, number from statement where status = 'issued' order by number`.execute(trx);
  const seen = new Set<string>();
  for (const { id, number } of found.rows) {
    seen.add(id);
    const history = histories.get(id);
    if (history === undefined || history.state['status'] !== ISSUED || history.removedBy !== null) {
      faults.push(`Statement ${number ?? id} is issued, but the audit never saw it issued.`);
      continue;
    }
    const differing = await differingFields(trx, id, history.state);
    if (differing.length > 0)
      faults.push(
        `Statement ${number ?? id} is not as it was issued: ${differing.join(', ')} ${differing.length === 1 ? 'was' : 'were'} changed without the audit.`,
      );
  }
  for (const [id, { state }] of histories)
    if (state['status'] === ISSUED && !seen.has(id))
      faults.push(
        `Statement ${JSON.parse(state['number'] ?? 'null') as string} was issued, but is not there any more.`,
      );
  return { count: found.rows.length, faults };
}

async function differingFields(
  trx: Kysely<Database>,
  id: string,
  audited: Record<string, string>,
): Promise<string[]> {
  const { rows } = await sql<{ name: string; text: string }>`
    select now.key as name, now.value::text as text
    from statement, jsonb_each(to_jsonb(statement)) as now where id = ${id}`.execute(trx);
  return rows
    .filter(({ name, text }) => audited[name] !== text && !isFingerprint(audited[name], text))
    .map(({ name }) => name);
}

/** Of a long document the audit keeps the fingerprint alone. */
function isFingerprint(kept: string | undefined, text: string): boolean {
  if (kept?.startsWith('{') !== true) return false;
  const { sha256 } = JSON.parse(kept) as { sha256?: unknown };
  return sha256 === createHash('sha256').update(text).digest('hex');
}
