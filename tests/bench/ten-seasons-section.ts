import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createApp } from '../../api/app.ts';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { migrate } from '../../db/migrate.ts';
import { openDatabase, type OpenDatabase } from '../../db/open.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { startTestServer } from '../support/postgres-server.ts';
import { loadSeasons } from '../support/ten-seasons/load.ts';
import { SEASON_SIZE } from '../support/ten-seasons/records.ts';
import { rounded, table } from './report-table.ts';
import { sectionOf } from './section.ts';
import { peakMb, stopwatch } from './timing.ts';

/** With so many seasons on the books it is measured; the newest of them is asked about each time. `BENCH_SEASONS=1,3` takes less time. */
const SEASONS = (process.env['BENCH_SEASONS'] ?? '1,5,10').split(',').map(Number);
const NEWEST = 2025;
const REPEATS = 5;
/** A page that is being worked out is asked for again; so often at most. */
const MOST_LOOKS = 200;

interface Asked {
  name: string;
  /** The first look, and how many it took until nothing was being worked out any more. */
  firstMs: number;
  looks: number;
  medianMs: number;
  worstMs: number;
}

interface Stage {
  seasons: number;
  loadedS: number;
  pages: Asked[];
  peakMb: number;
}

/** The pages that are measured, by the season's id. */
const pagesOf = (seasonId: string): Record<string, string> => ({
  'Month report': `/months/${NEWEST}-06/report`,
  'Season summary': `/seasons/${seasonId}/summary`,
  'Lots of a season': `/lots?seasonId=${seasonId}`,
  'Batches of a season': `/batches?seasonId=${seasonId}`,
  'What is where': '/stock',
  'Supplies in stock': '/supply-stock',
});

async function measurePages(open: () => Promise<OpenDatabase>): Promise<Stage[]> {
  const { db, close } = await open();
  try {
    await migrate(db);
    await ensureMill(db, NEWEST + 1);
    await loadDemoSeason(db);
    const app = createApp({ db, now: () => new Date(`${NEWEST + 1}-01-10T12:00:00Z`) });
    const ask = async (path: string): Promise<{ ms: number; text: string }> => {
      const read = stopwatch();
      const response = await app.request(`/api${path}`);
      const text = await response.text();
      if (!response.ok) throw new Error(`${path} gave ${response.status}: ${text}`);
      return { ms: read().wallMs, text };
    };
    const stages: Stage[] = [];
    let loaded = 0;
    for (const seasons of SEASONS) {
      const loading = stopwatch();
      await loadSeasons(db, { seasons: seasons - loaded, lastYear: NEWEST - loaded });
      const loadedS = loading().wallMs / 1000;
      loaded = seasons;
      const known = JSON.parse((await ask('/seasons')).text) as { id: string; name: string }[];
      const seasonId = known.find(({ name }) => name === `Invented ${NEWEST}`)?.id ?? '';
      const pages: Asked[] = [];
      for (const [name, path] of Object.entries(pagesOf(seasonId))) {
        const first = await ask(path);
        let looks = 1;
        for (
          let { text } = first;
          text.includes('grades-being-worked-out') || text.includes('being worked out');
        )
          if ((looks += 1) > MOST_LOOKS) throw new Error(`${path} is never worked out.`);
          else ({ text } = await ask(path));
        const times: number[] = [];
        for (let n = 0; n < REPEATS; n += 1) times.push((await ask(path)).ms);
        times.sort((a, b) => a - b);
        pages.push({
          name,
          firstMs: first.ms,
          looks,
          medianMs: times[Math.floor(REPEATS / 2)] ?? NaN,
          worstMs: times.at(-1) ?? NaN,
        });
      }
      stages.push({ seasons, loadedS, pages, peakMb: peakMb() });
    }
    return stages;
  } finally {
    await close();
  }
}

async function measureEmbedded(): Promise<Stage[]> {
  const dataDir = mkdtempSync(join(tmpdir(), 'poursheet-bench-'));
  try {
    return await measurePages(() => openDatabase({ dataDir, durability: 'durable' }));
  } finally {
    rmSync(dataDir, { recursive: true, force: true });
  }
}

/** A sentence instead of figures says why there is no server to measure on. */
async function measureServer(): Promise<Stage[] | string> {
  const server = await startTestServer();
  if (typeof server === 'string') return server;
  try {
    return await measurePages(() => openDatabase({ databaseUrl: server.url, durability: 'durable' }));
  } finally {
    await server.stop();
  }
}

function stagesTable(title: string, stages: Stage[]): string {
  const names = stages[0]?.pages.map(({ name }) => name) ?? [];
  const cell = ({ medianMs, worstMs, firstMs }: Asked): string =>
    `${rounded(medianMs)} / ${rounded(worstMs)} / ${rounded(firstMs)}`;
  return [
    table(
      [title, ...stages.map(({ seasons }) => `${seasons} ${seasons === 1 ? 'season' : 'seasons'}`)],
      [
        ...names.map((name) => [
          name,
          ...stages.map(({ pages }) =>
            pages.flatMap((page) => (page.name === name ? [cell(page)] : [])).join(''),
          ),
        ]),
        ['Loading those added, s', ...stages.map(({ loadedS }) => rounded(loadedS))],
        ['Most memory so far, MB', ...stages.map((stage) => rounded(stage.peakMb))],
      ],
    ),
    '',
    `The summary of a season of ${SEASON_SIZE.lots} lots says at its first looks that grades are being worked out; it took ${stages
      .map(({ pages }) => pages.find(({ name }) => name === 'Season summary')?.looks ?? 0)
      .join(', ')} looks until all were kept.`,
  ].join('\n');
}

export const tenSeasonsSection = sectionOf({
  title: 'Ten seasons',
  measures: { embedded: measureEmbedded, server: measureServer },
  write: ({ embedded, server }) =>
    [
      `An invented mill with up to ten seasons on its books, each of 365 days, 500 lots, 2,000 test smelts, 1,000 batches and`,
      '300 statements (`tests/support/ten-seasons`), loaded straight into the tables with the audit writing all of it down,',
      'which takes some minutes. Server time of an answer through the API, by the clock, in ms: median / worst of',
      `${REPEATS} looks, and after the stroke that follows the first look, before anything is kept.`,
      '',
      stagesTable('Embedded engine', embedded),
      '',
      typeof server === 'string'
        ? `No PostgreSQL server was measured: ${server}.`
        : stagesTable('PostgreSQL server', server),
    ].join('\n'),
});
