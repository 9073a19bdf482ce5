import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { sql } from 'kysely';
import type { Config } from '../config.ts';
import { verifyAudit, type AuditVerdict } from '../../db/audit/verify.ts';
import { lockDataDirectory } from '../../db/engine/data-directory-lock.ts';
import { openDatabase } from '../../db/open.ts';

interface Verdict {
  text: string;
  exitCode: 0 | 1;
}

/** Checks that the books are as the audit has them, and says so in plain sentences. Writes nothing to the books. */
export async function verifyBooks({ databaseUrl, dataDir, fingerprint }: Config): Promise<Verdict> {
  if (databaseUrl !== undefined) return verifyDatabase({ databaseUrl }, fingerprint);
  if (!existsSync(join(dataDir, 'database')))
    return failed(`There are no books in ${dataDir}. Name their directory with --data.`);
  const lock = lockDataDirectory(dataDir, new Date());
  try {
    return await verifyDatabase({ dataDir }, fingerprint);
  } finally {
    lock.release();
  }
}

async function verifyDatabase(
  place: { databaseUrl: string } | { dataDir: string },
  fingerprint: string | undefined,
): Promise<Verdict> {
  const { db, close } = await openDatabase({ ...place, durability: 'durable' });
  try {
    const { rows } = await sql<{
      head: string | null;
    }>`select to_regclass('audit_head')::text as head`.execute(db);
    if (rows[0]?.head == null)
      return failed(
        'These books have no audit yet: it begins when this version of Poursheet first starts on them.',
      );
    return verdictOf(await verifyAudit(db, fingerprint));
  } finally {
    await close();
  }
}

function verdictOf({ faults, entryCount, statementCount, head, noted }: AuditVerdict): Verdict {
  if (faults.length > 0)
    return failed(
      ['The books are not as they were written.', ...faults.map((fault) => `- ${fault}`)].join('\n'),
    );
  const text = [
    `The books are as they were written: ${entryCount} entries of the audit follow from each other,`,
    `and ${statementCount} issued statements are as they were issued.`,
    ...(noted === null
      ? []
      : [
          `The fingerprint that you noted is that of entry ${noted}: nothing up to it was altered since you noted it.`,
        ]),
    `The last entry is ${head.sequence}, its fingerprint ${head.hash}.`,
    'Note both where nobody who can reach the database can reach them: they prove later that nothing before was altered.',
  ];
  return { text: text.join('\n'), exitCode: 0 };
}

function failed(text: string): Verdict {
  return { text, exitCode: 1 };
}
