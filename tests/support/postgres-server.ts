import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import pg from 'pg';
import { GenericContainer, Wait } from 'testcontainers';

export interface TestServer {
  /** URL of a database whose user may create databases. */
  url: string;
  stop(): Promise<void>;
}

/**
 * A real PostgreSQL to test on: TEST_DATABASE_URL, else a container where a container engine answers,
 * else a private cluster from the machine's own PostgreSQL. A string says why there is none.
 */
export async function startTestServer(): Promise<TestServer | string> {
  const url = process.env['TEST_DATABASE_URL'];
  if (url !== undefined && url !== '') return { url, stop: () => Promise.resolve() };
  if (containerEngineAnswers()) return startContainer();
  const binaries = serverBinaries();
  if (binaries === undefined)
    return 'no TEST_DATABASE_URL, no container engine that answers, and no PostgreSQL in /usr/lib/postgresql/*/bin';
  return startCluster(binaries);
}

function containerEngineAnswers(): boolean {
  try {
    execFileSync('docker', ['info'], { timeout: 3000, stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

async function startContainer(): Promise<TestServer> {
  const port = 5432;
  const container = await new GenericContainer('postgres:15-alpine')
    .withEnvironment({ POSTGRES_PASSWORD: 'test' })
    .withExposedPorts(port)
    // The first "ready" is of the server that only sets the cluster up.
    .withWaitStrategy(Wait.forLogMessage(/database system is ready to accept connections/, 2))
    .start();
  return {
    url: `postgres://postgres:test@${container.getHost()}:${container.getMappedPort(port)}/postgres`,
    stop: async () => {
      await container.stop();
    },
  };
}

function serverBinaries(): string | undefined {
  const base = '/usr/lib/postgresql';
  const versions = existsSync(base) ? readdirSync(base).filter((name) => Number(name) >= 15) : [];
  const found = [...versions.map((name) => join(base, name, 'bin')), '/opt/homebrew/bin', '/usr/local/bin'];
  return found.find((path) => existsSync(join(path, 'initdb')));
}

/** PostgreSQL does not run as root: there it runs as its own user, or as nobody. */
function serverUser(): { uid?: number; gid?: number } {
  if (process.getuid?.() !== 0) return {};
  for (const name of ['postgres', 'nobody'])
    try {
      const idOf = (flag: string): number =>
        Number(execFileSync('id', [flag, name], { stdio: ['ignore', 'pipe', 'ignore'] }).toString());
      return { uid: idOf('-u'), gid: idOf('-g') };
    } catch {
      continue;
    }
  throw new Error('PostgreSQL does not run as root, and there is neither a user postgres nor a user nobody.');
}

async function startCluster(binaries: string): Promise<TestServer> {
  const directory = mkdtempSync(join(tmpdir(), 'poursheet-pg-'));
  const user = serverUser();
  if (user.uid !== undefined && user.gid !== undefined) chownSync(directory, user.uid, user.gid);
  const data = join(directory, 'data');
  const options = { ...user, cwd: directory, env: { PATH: process.env['PATH'], LC_ALL: 'C.UTF-8' } };
  execFileSync(
    join(binaries, 'initdb'),
    ['-D', data, '-U', 'postgres', '-A', 'trust', '-E', 'UTF8', '--no-sync'],
    { ...options, stdio: ['ignore', 'ignore', 'pipe'] },
  );
  const settings = [
    'listen_addresses=',
    `unix_socket_directories=${directory}`,
    'fsync=off',
    'full_page_writes=off',
    'synchronous_commit=off',
    'max_connections=200',
  ];
  const server = spawn(
    join(binaries, 'postgres'),
    ['-D', data, ...settings.flatMap((setting) => ['-c', setting])],
    {
      ...options,
      stdio: ['ignore', 'ignore', 'pipe'],
    },
  );
  let log = '';
  server.stderr.on('data', (chunk: Buffer) => (log = (log + chunk.toString()).slice(-4000)));
  const stopAtExit = (): void => void server.kill('SIGQUIT');
  process.once('exit', stopAtExit);

  const url = `postgresql://postgres@localhost/postgres?host=${encodeURIComponent(directory)}`;
  for (let tries = 0; !(await answers(url)); tries += 1) {
    if (server.exitCode !== null || tries > 300)
      throw new Error(`The test PostgreSQL did not start:\n${log}`);
    await wait(100);
  }
  return {
    url,
    stop: async () => {
      process.off('exit', stopAtExit);
      const gone = once(server, 'exit');
      server.kill('SIGINT');
      await gone;
      rmSync(directory, { recursive: true, force: true });
    },
  };
}

async function answers(url: string): Promise<boolean> {
  const client = new pg.Client({ connectionString: url });
  try {
    await client.connect();
    await client.end();
    return true;
  } catch {
    return false;
  }
}
