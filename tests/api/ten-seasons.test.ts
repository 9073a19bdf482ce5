import { expect, it } from 'vitest';
import { createApp } from '../../api/app.ts';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { loadSeasons } from '../support/ten-seasons/load.ts';
import { SEASON_SIZE } from '../support/ten-seasons/records.ts';

describeOnEveryEngine('invented seasons beside the demo, which the bench makes many of', (open) => {
  it('are records as an owner would have entered them: the pages’ own questions answer', async () => {
    const { db } = await open();
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    await loadSeasons(db, {
      seasons: 1,
      lastYear: 2024,
      size: { ...SEASON_SIZE, days: 40, lots: 12, statements: 4 },
    });
    const app = createApp({ db, now: () => new Date('2026-10-14T12:00:00Z') });
    const ask = async (path: string): Promise<never> => {
      const response = await app.request(`/api${path}`);
      expect(response.status, path).toBe(200);
      return (await response.json()) as never;
    };
    const seasons: { id: string; name: string }[] = await ask('/seasons');
    const season = seasons.find(({ name }) => name === 'Invented 2024')?.id ?? '';
    expect(await ask(`/lots?seasonId=${season}`)).toHaveLength(12);
    const batches: { settled: unknown }[] = await ask(`/batches?seasonId=${season}`);
    expect(batches).toHaveLength(24);
    expect(batches.filter(({ settled }) => settled !== null)).toHaveLength(4);
    const summary: { title: string } = await ask(`/seasons/${season}/summary`);
    expect(JSON.stringify(summary)).toContain('I2024-0004');
  });
});
