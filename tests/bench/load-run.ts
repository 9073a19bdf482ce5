import { execFileSync, fork, spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { sql, type Kysely } from 'kysely';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import type { Database } from '../../db/schema.ts';
import { migrate } from '../../db/migrate.ts';
import { openDatabase } from '../../db/open.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { startTestServer } from '../support/postgres-server.ts';
import { loadSeasons } from '../support/ten-seasons/load.ts';
import { watchedChild } from '../support/watched-child.ts';
import { benchFolder, hasTaskset } from './section.ts';

export type LoadEngine = 'embedded' | 'server';

/** Fewer are quicker to fill in where only the bench itself is tried. */
export const SEASONS = Number(process.env['LOAD_SEASONS'] ?? '10');
const CONNECTIONS = 50;
const THREADS = 2;
const LONGEST_S = 110;
const WRITE_SHARE = 0.05;
/** Fifty people who each open a page a minute, of four requests: what an hour of it asks. */
export const REQUESTS_OF_AN_HOUR = 12_000;
const WARM_REQUESTS = 400;

export const hasWrk = spawnSync('wrk', ['--version']).error === undefined;

export interface LoadRun {
  requests: number;
  seconds: number;
  refused: number;
  socketErrors: number;
  timeouts: number;
  written: number;
  repeated: number;
  p50Ms: number;
  p90Ms: number;
  p99Ms: number;
  mostMs: number;
}

const root = join(benchFolder, '../..');

/** The program as it is started, but with a bare front page, in a directory that finds its libraries. */
function buildProgram(): string {
  const cache = join(root, 'node_modules/.cache');
  mkdirSync(cache, { recursive: true });
  const directory = mkdtempSync(join(cache, 'poursheet-load-'));
  execFileSync(
    process.execPath,
    [
      join(root, 'node_modules/vite/bin/vite.js'),
      'build',
      '--config',
      join(root, 'api/vite.config.ts'),
    ].concat(['--outDir', join(directory, 'server'), '--emptyOutDir', '--logLevel', 'error']),
    { cwd: root, stdio: 'ignore' },
  );
  mkdirSync(join(directory, 'web'));
  writeFileSync(join(directory, 'web/index.html'), '<title>load</title>');
  return directory;
}

type Place = { dataDir: string } | { databaseUrl: string };

async function withDatabase(place: Place, work: (db: Kysely<Database>) => Promise<void>): Promise<void> {
  const { db, close } = await openDatabase({ ...place, durability: 'fast' });
  try {
    await work(db);
  } finally {
    await close();
  }
}

/** The demo and ten seasons before it, with the audit of all that was entered. */
async function fill(place: Place): Promise<void> {
  await withDatabase(place, async (db) => {
    await migrate(db);
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    await loadSeasons(db, { seasons: SEASONS, lastYear: 2025 });
    await sql`analyze`.execute(db);
  });
}

const rssMb = (pid: number, field: 'VmRSS' | 'VmHWM'): number => {
  const [, kilobytes] =
    new RegExp(`^${field}:\\s+(\\d+) kB`, 'm').exec(readFileSync(`/proc/${pid}/status`, 'latin1')) ?? [];
  return Number(kilobytes) / 1024;
};

/** What pages ask for, and how often of a hundred. */
async function addresses(url: string): Promise<string[]> {
  const ask = async <T>(path: string): Promise<T> => {
    const answer = await fetch(`${url}/api${path}`);
    if (!answer.ok) throw new Error(`${path} answered ${answer.status}: ${await answer.text()}`);
    return (await answer.json()) as T;
  };
  type Listed = { id: string }[];
  const seasons = await ask<{ id: string; name: string }[]>('/seasons');
  const season = seasons.find(({ name }) => name === 'Invented 2025')?.id ?? '';
  const demo = seasons.find(({ name }) => !name.startsWith('Invented 20'))?.id ?? '';
  const lots = (await ask<Listed>(`/lots?seasonId=${season}`)).slice(0, 20);
  const demoLots = await ask<Listed>(`/lots?seasonId=${demo}`);
  const batches = (await ask<Listed>(`/batches?seasonId=${season}`)).slice(0, 20);
  const statements = (await ask<Listed>(`/statements?seasonId=${season}`)).slice(0, 20);
  const each = (list: Listed, weight: number, path: (id: string) => string): string[] =>
    list.map(({ id }) => `${weight} /api${path(id)}`);
  return [
    '160 /api/session',
    '160 /api/mill',
    '80 /api/seasons',
    `40 /api/lots?seasonId=${season}`,
    ...each(lots, 6, (id) => `/lots/${id}`),
    ...each(lots, 6, (id) => `/trials?lotId=${id}`),
    `30 /api/batches?seasonId=${season}`,
    ...each(batches, 4, (id) => `/batches/${id}`),
    `20 /api/statements?seasonId=${season}`,
    ...each(statements, 3, (id) => `/statements/${id}`),
    `40 /api/days?seasonId=${season}&from=2025-07-01&to=2025-07-31`,
    '40 /api/quotations/latest',
    '40 /api/supplies',
    '20 /api/treatments',
    '20 /api/terms',
    '10 /api/supply-stock',
    '6 /api/stock',
    ...each(demoLots.slice(0, 3), 2, (id) => `/decisions/facts?lotId=${id}`),
    '6 /api/months?year=2025',
    ...['2025-03', '2025-06', '2025-09'].map((month) => `2 /api/months/${month}/report`),
    `1 /api/seasons/${demo}/summary`,
    '60 /',
  ];
}

async function wrk(url: string, file: string, requests: number): Promise<LoadRun> {
  const child = spawn(
    'wrk',
    [
      `-t${THREADS}`,
      `-c${CONNECTIONS}`,
      `-d${LONGEST_S}s`,
      '--timeout',
      '30s',
      '-s',
      join(benchFolder, 'load-mix.lua'),
      url,
    ],
    {
      stdio: ['ignore', 'pipe', 'pipe'],
      env: {
        ...process.env,
        LOAD_ADDRESSES: file,
        LOAD_REQUESTS_OF_A_THREAD: String(Math.ceil(requests / THREADS)),
        LOAD_WRITE_SHARE: String(WRITE_SHARE),
      },
    },
  );
  const watched = watchedChild(child);
  const stopLate = setTimeout(() => child.kill('SIGKILL'), (LONGEST_S + 40) * 1000);
  await watched.ended;
  clearTimeout(stopLate);
  const [, json] = /^LOAD (\{.*\})$/m.exec(watched.output()) ?? [];
  if (json === undefined) throw new Error(`wrk said:\n${watched.output()}`);
  return JSON.parse(json) as LoadRun;
}

/** Looks at the reports until what lots hold is worked out and kept, as in a mill that looks at its reports. */
async function lookUntilWorked(url: string, lines: readonly string[]): Promise<void> {
  for (const line of lines.filter((one) => one.endsWith('/report') || one.endsWith('/summary')))
    for (let isDone = false; !isDone;) {
      const answer = await fetch(`${url}${line.replace(/^\d+ /, '')}`);
      const text = await answer.text();
      isDone = answer.ok && !text.includes('being worked out');
    }
}

/** Each address alone, three times: the quickest, to tell what is slow in itself. */
async function alone(url: string, lines: readonly string[]): Promise<{ address: string; ms: number }[]> {
  const seen = new Set<string>();
  const times: { address: string; ms: number }[] = [];
  for (const line of lines) {
    const address = line.replace(/^\d+ /, '');
    const kind = address.replaceAll(/[0-9a-f]{8}-[0-9a-f-]{27}/g, '…');
    if (seen.has(kind)) continue;
    seen.add(kind);
    let ms = Infinity;
    for (let turn = 0; turn < 3; turn += 1) {
      const begun = performance.now();
      await (await fetch(`${url}${address}`)).arrayBuffer();
      ms = Math.min(ms, performance.now() - begun);
    }
    times.push({ address: kind, ms });
  }
  return times.toSorted((a, b) => b.ms - a.ms);
}

async function quotationsEntered(url: string): Promise<number> {
  const answer = await fetch(`${url}/api/quotations?metal=Au&from=2010-01-01&to=2014-12-31&limit=5000`);
  return ((await answer.json()) as unknown[]).length;
}

/** The built program over ten seasons and the demo, a process of its own, with fifty connections on it. */
export async function measureLoad(engine: LoadEngine) {
  // The program, the load tool and the database share all cores, as on the mill's own computer.
  if (hasTaskset) execFileSync('taskset', ['-acp', `0-${cpus().length - 1}`, String(process.pid)]);
  const server = engine === 'server' ? await startTestServer() : undefined;
  if (typeof server === 'string') return { missing: server };
  const program = buildProgram();
  const dataDir = mkdtempSync(join(tmpdir(), 'poursheet-load-'));
  let child: ChildProcess | undefined;
  try {
    await fill(server === undefined ? { dataDir } : { databaseUrl: server.url });
    const { DATABASE_URL: _elsewhere, ...env } = process.env;
    child = fork(join(program, 'server/server.js'), ['--port', '0', '--data', dataDir, '--backups', 'off'], {
      silent: true,
      env: server === undefined ? env : { ...env, DATABASE_URL: server.url },
    });
    const watched = watchedChild(child);
    const [, url = ''] = /is ready: (http:\S+)/.exec(await watched.written(/is ready: http:\S+\n/)) ?? [];
    const pid = child.pid ?? 0;
    const lines = await addresses(url);
    const file = join(dataDir, 'addresses.txt');
    writeFileSync(file, `${lines.join('\n')}\n`);
    await lookUntilWorked(url, lines);
    const single = await alone(url, lines);
    await wrk(url, file, WARM_REQUESTS);
    const startMb = rssMb(pid, 'VmRSS');
    const before = await quotationsEntered(url);
    const run = await wrk(url, file, REQUESTS_OF_AN_HOUR);
    const endMb = rssMb(pid, 'VmRSS');
    const peakMb = rssMb(pid, 'VmHWM');
    const after = await quotationsEntered(url);
    child.kill('SIGTERM');
    await watched.ended;
    return {
      run,
      single,
      startMb,
      endMb,
      peakMb,
      daysWritten: after - before,
      failures: watched
        .output()
        .split('\n')
        .filter((line) => line.includes('"error"')).length,
    };
  } finally {
    child?.kill('SIGKILL');
    rmSync(program, { recursive: true, force: true });
    rmSync(dataDir, { recursive: true, force: true });
    await server?.stop();
  }
}
