import { createApp } from '../../api/app.ts';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { migrate } from '../../db/migrate.ts';
import { openDatabase } from '../../db/open.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { fileCounter } from '../../web/pages/season/fetch-archive.ts';
import { startTestServer } from '../support/postgres-server.ts';
import { loadSeasons } from '../support/ten-seasons/load.ts';
import { rounded, table } from './report-table.ts';
import { onOneCore, sectionOf } from './section.ts';
import { stopwatch } from './timing.ts';

const NAME = 'Accountant’s archive';
const YEAR = 2025;
/** Set for the process that downloads, so that its memory is not that of filling in the season. */
const FILLED_IN = 'ACCOUNTANT_BENCH_DATABASE';
/** The first works out the grades of lots in stock and the books of the months, which are kept. */
const DOWNLOADS = 3;

interface Downloaded {
  seconds: number;
  cpuSeconds: number;
  firstByteSeconds: number;
  megabytes: number;
  files: number;
  /** As the page counts them while they come. */
  counted: number;
  mostMb: number;
}

async function download(app: ReturnType<typeof createApp>): Promise<Downloaded> {
  let counted = 0;
  const count = fileCounter((files) => {
    counted = files;
  });
  let mostMb = 0;
  const watch = setInterval(() => {
    mostMb = Math.max(mostMb, process.memoryUsage.rss() / 2 ** 20);
  }, 10);
  const read = stopwatch();
  const response = await app.request(`/api/accountant-package?from=${YEAR}-01-01&to=${YEAR}-12-31`);
  if (response.body === null || response.status !== 200)
    throw new Error(`The package was answered with ${response.status}.`);
  let firstByteMs: number | null = null;
  let bytes = 0;
  for await (const chunk of response.body) {
    firstByteMs ??= read().wallMs;
    bytes += chunk.length;
    count(chunk);
  }
  const { wallMs, cpuMs } = read();
  clearInterval(watch);
  return {
    seconds: wallMs / 1000,
    cpuSeconds: cpuMs / 1000,
    firstByteSeconds: (firstByteMs ?? wallMs) / 1000,
    megabytes: bytes / 2 ** 20,
    files: Number(response.headers.get('x-file-count')),
    counted,
    mostMb,
  };
}

async function measureDownloads(databaseUrl: string): Promise<Measured> {
  const { db, close } = await openDatabase({ databaseUrl, durability: 'durable' });
  try {
    const app = createApp({ db, now: () => new Date(`${YEAR + 1}-01-10T12:00:00Z`) });
    await app.request('/api/seasons');
    const beforeMb = process.memoryUsage.rss() / 2 ** 20;
    const downloads: Downloaded[] = [];
    for (let n = 0; n < DOWNLOADS; n += 1) downloads.push(await download(app));
    return { beforeMb, downloads };
  } finally {
    await close();
  }
}

interface Measured {
  /** Held by the program once it has answered something. */
  beforeMb: number;
  downloads: Downloaded[];
}

/** A sentence instead of figures says why there is no server to measure on. */
async function measure(): Promise<Measured | string> {
  const filledIn = process.env[FILLED_IN];
  if (filledIn !== undefined) return measureDownloads(filledIn);
  const server = await startTestServer();
  if (typeof server === 'string') return server;
  try {
    const { db, close } = await openDatabase({ databaseUrl: server.url, durability: 'durable' });
    await migrate(db);
    await ensureMill(db, YEAR + 1);
    await loadDemoSeason(db);
    await loadSeasons(db, { seasons: 1, lastYear: YEAR });
    await close();
    process.env[FILLED_IN] = server.url;
    const [, program = ''] = process.argv;
    return JSON.parse(onOneCore(process.execPath, [program, 'measure', NAME, 'server'])) as Measured;
  } finally {
    await server.stop();
  }
}

function downloadsTable({ beforeMb, downloads }: Measured): string {
  const row = (name: string, of: (one: Downloaded) => number): string[] => [
    name,
    ...downloads.map((one) => rounded(of(one))),
  ];
  return table(
    ['', ...downloads.map((_, at) => (at === 0 ? 'first' : at === 1 ? 'second' : 'third'))],
    [
      row('All of it, s', ({ seconds }) => seconds),
      row('Processor, s', ({ cpuSeconds }) => cpuSeconds),
      row('First byte after, s', ({ firstByteSeconds }) => firstByteSeconds),
      row('Bytes, MB', ({ megabytes }) => megabytes),
      row('Files', ({ files }) => files),
      row('Files as the page counted them', ({ counted }) => counted),
      row('Most memory, MB', ({ mostMb }) => mostMb),
      row('Of it beyond the program at rest, MB', ({ mostMb }) => mostMb - beforeMb),
    ],
  );
}

export const accountantSection = sectionOf({
  title: NAME,
  measures: { server: measure },
  write: ({ server }) =>
    [
      'The accountant’s package of a whole season of 365 days, 500 lots, 2,000 test smelts, 1,000 batches and 300 statements',
      '(`tests/support/ten-seasons`), on a PostgreSQL server, by a program that has done nothing else: a workbook, the same as',
      'CSV and the PDFs of the statements. The first download works out what lots in stock hold and what each month counts,',
      'which is kept; the page of the season has mostly done it before.',
      '',
      typeof server === 'string' ? `No PostgreSQL server was measured: ${server}.` : downloadsTable(server),
    ].join('\n'),
});
