import { join } from 'node:path';
import { sql } from 'kysely';
import { beforeAll, expect, it } from 'vitest';
import { restoreBackup } from '../../db/backup/restore.ts';
import { verifyAudit } from '../../db/audit/verify.ts';
import { migrate } from '../../db/migrate.ts';
import { migrations } from '../../db/migrations/index.ts';
import type { OpenDatabase } from '../../db/open.ts';
import { backupLines } from '../support/backup-lines.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { millApi } from '../support/mill.ts';

/** The demo season as the first release wrote it, with its one migration. */
const FIRST_RELEASE = join(import.meta.dirname, 'old-data', 'release-1.jsonl.gz');

describeOnEveryEngine('the books of the first release', (open) => {
  const { header } = backupLines(FIRST_RELEASE);
  let opened: OpenDatabase;
  beforeAll(async () => {
    opened = await open({ migrated: false });
    const restored = await restoreBackup(opened.db, FIRST_RELEASE);
    expect(header.migrations).toEqual(['0001-first-season']);
    expect(restored.applied).toEqual(
      Object.keys(migrations)
        .filter((name) => name > '0001-first-season')
        .sort(),
    );
  });

  it('are brought up to date with every row', async () => {
    expect(await migrate(opened.db)).toEqual({ applied: [] });
    for (const { name, rows } of header.tables) {
      if (name.startsWith('kysely_')) continue;
      const { rows: counted } = await sql<{
        count: string;
      }>`select count(*) as count from ${sql.id(name)}`.execute(opened.db);
      expect([name, Number(counted[0]?.count)]).toEqual([name, rows]);
    }
    expect((await verifyAudit(opened.db)).faults).toEqual([]);
  });

  it('answer what the pages ask', async () => {
    const { enter } = millApi(opened.db);
    const countOf = (table: string): number => header.tables.find(({ name }) => name === table)?.rows ?? 0;
    const lists: [path: string, table: string][] = [
      ['/lots', 'lot'],
      ['/supplies', 'supply'],
      ['/balances', 'balance'],
      ['/treatments', 'treatment'],
      ['/counterparties', 'counterparty'],
      ['/batches', 'batch'],
      ['/statements', 'statement'],
      ['/seasons', 'season'],
    ];
    for (const [path, table] of lists) {
      expect(countOf(table)).toBeGreaterThan(0);
      expect([path, (await enter('GET', path)).length]).toEqual([path, countOf(table)]);
    }
    for (const path of ['/mill', '/stock', '/supply-stock', '/cupellation', '/days', '/shipments', '/audit'])
      await enter('GET', path);

    const [season] = await enter('GET', '/seasons');
    await enter('GET', `/seasons/${season.id}/summary`);
    for (const path of ['lots', 'batches', 'statements', 'treatments'])
      for (const { id } of await enter('GET', `/${path}`)) await enter('GET', `/${path}/${id}`);
  });

  it('can be gone on with, and hold what was issued', async () => {
    const { enter, send } = millApi(opened.db);
    const [season] = await enter('GET', '/seasons');
    const lot = {
      seasonId: season.id,
      code: 'L-NEW',
      madeOn: '2026-10-20',
      wetMassKg: '250',
      moistureFrac: '0',
    };
    expect((await enter('POST', '/lots', lot)).code).toBe('L-NEW');
    const statements = (await enter('GET', '/statements')) as { id: string; status: string }[];
    const issued = statements.find(({ status }) => status === 'issued');
    expect((await send('DELETE', `/statements/${issued?.id}`)).status).toBeGreaterThanOrEqual(400);
    expect((await verifyAudit(opened.db)).faults).toEqual([]);
  });
});
