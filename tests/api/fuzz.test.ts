import { writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { fuzz } from '../support/fuzz/run.ts';

/**
 * `FUZZ_REQUESTS=30000 npx vitest run --config tests/vitest.config.ts --project database tests/api/fuzz.test.ts`
 * sends more, and `FUZZ_SEED` others; `FUZZ_REPORT` is a file for what came of it.
 */
const REQUESTS = Number(process.env['FUZZ_REQUESTS'] ?? '1000');
const SEED = Number(process.env['FUZZ_SEED'] ?? '1');
const A_REQUEST_MS = 1000;

/** What no request here can have accepted, with the reason. */
const notAccepted: Record<string, string> = {
  'POST /api/backups': 'these books keep no backups; tests/server/backups.test.ts makes and fetches them',
  'GET /api/backups/{file}': 'as above',
};

describeOnEveryEngine('rubbish at every endpoint', (open) => {
  it(
    'is refused in one sentence, breaks nothing, hangs nowhere and changes no row',
    async () => {
      const { db } = await open();
      await ensureMill(db, 2026);
      await loadDemoSeason(db);
      const report = await fuzz({ db, count: REQUESTS, seed: SEED });
      const file = process.env['FUZZ_REPORT'];
      if (file !== undefined) writeFileSync(file, JSON.stringify(report, null, 2), { flag: 'a' });
      expect(report.faults).toEqual([]);
      // What is never accepted is never asked past its first checks.
      expect(
        report.neverAccepted.filter(
          (one) => !Object.keys(notAccepted).some((name) => one.startsWith(`${name}:`)),
        ),
      ).toEqual([]);
      // That most is refused and some is not shows that both ways were gone.
      expect(report.refused).toBeGreaterThan(REQUESTS / 4);
      expect(report.accepted).toBeGreaterThan(REQUESTS / 20);
    },
    120_000 + REQUESTS * A_REQUEST_MS,
  );
});
