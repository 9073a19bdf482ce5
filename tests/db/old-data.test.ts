import { join } from 'node:path';
import { sql } from 'kysely';
import { beforeAll, describe, expect, it } from 'vitest';
import { restoreBackup } from '../../db/backup/restore.ts';
import { verifyAudit } from '../../db/audit/verify.ts';
import { migrate } from '../../db/migrate.ts';
import { migrations } from '../../db/migrations/index.ts';
import type { OpenDatabase } from '../../db/open.ts';
import { backupLines } from '../support/backup-lines.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { millApi } from '../support/mill.ts';

/** The demo season as each release wrote it, and the last migration of that release. */
const RELEASES = [
  { name: 'the first release', file: 'release-1.jsonl.gz', last: '0001-first-season' },
  // With April and May closed.
  { name: 'the second release', file: 'release-2.jsonl.gz', last: '0007-month-state' },
];
const pathOf = (file: string): string => join(import.meta.dirname, 'old-data', file);

describe.each(RELEASES)('the books of $name', ({ file, last }) => {
  describeOnEveryEngine('are old', (open) => {
    const path = pathOf(file);
    const { header } = backupLines(path);
    let opened: OpenDatabase;
    beforeAll(async () => {
      opened = await open({ migrated: false });
      const restored = await restoreBackup(opened.db, path);
      expect(header.migrations.at(-1)).toBe(last);
      expect(restored.applied).toEqual(
        Object.keys(migrations)
          .filter((name) => name > last)
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
      for (const path of [
        '/mill',
        '/stock',
        '/supply-stock',
        '/cupellation',
        '/days',
        '/shipments',
        '/audit',
      ])
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
});

describeOnEveryEngine('months that an earlier release closed', (open) => {
  it('stay as they were closed, and what is changed in them now shows where it was changed', async () => {
    const { db } = await open({ migrated: false });
    await restoreBackup(db, pathOf('release-2.jsonl.gz'));
    const { enter } = millApi(db);
    const { rows } = await sql<{ month: string; report: object }>`
      select to_char(month, 'YYYY-MM') as month, report from closed_month order by month`.execute(db);
    expect(rows.map(({ month }) => month)).toEqual(['2026-04', '2026-05']);
    for (const { month, report } of rows)
      expect(await enter('GET', `/months/${month}/report`)).toEqual(report);
    const correctionsOf = async () =>
      (await enter('GET', '/months?year=2026')).months.map((one: { corrections: number }) => one.corrections);
    expect(new Set(await correctionsOf())).toEqual(new Set([0]));
    const expense = (await enter('GET', '/expenses')).find(
      ({ spentOn }: { spentOn: string }) => spentOn === '2026-05-06',
    );
    const { id, ...fields } = expense;
    await enter('PUT', `/expenses/${id}`, { ...fields, amount: '181.50' });
    expect((await correctionsOf()).filter((count: number) => count > 0)).toEqual([1]);
    for (const { month, report } of rows)
      expect(await enter('GET', `/months/${month}/report`)).toEqual(report);
  });
});
