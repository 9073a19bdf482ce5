import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import { createAdaptorServer } from '@hono/node-server';
import { lockDataDirectory, type DataDirectoryLock } from '../db/engine/data-directory-lock.ts';
import { migrate } from '../db/migrate.ts';
import { forgetDeadImports } from '../db/queries/import-rows.ts';
import { openDatabase, type OpenDatabase } from '../db/open.ts';
import { ownerCanSignIn } from '../db/queries/accounts.ts';
import { forgetOthersFigures } from '../db/queries/kept.ts';
import { ensureMill } from '../db/queries/mill.ts';
import { makeOwner } from './accounts/make-owner.ts';
import { NobodyCanSignInError } from './accounts/nobody-can-sign-in.ts';
import { createApp } from './app.ts';
import { backUp } from './backups/back-up-command.ts';
import { openBackups, type Backups } from './backups/backups.ts';
import { bringBack } from './backups/restore-command.ts';
import { isUntouched, loadDemoSeason } from './demo/load-demo-season.ts';
import { help, readConfig, type Config } from './config.ts';
import { log, logError, setLogLevel } from './log.ts';
import { createMetrics } from './operations/metrics.ts';
import { operationRoutes } from './operations/operation-routes.ts';
import { createSite } from './site.ts';
import { startMessage } from './start-message.ts';
import { verifyBooks } from './audit/verify-books.ts';

/** How long requests under way may take to end once the program is told to stop, in milliseconds. */
const STOP_WAIT_MS = 5_000;

interface Running {
  server?: Server;
  opened?: OpenDatabase;
  backups?: Backups;
  lock?: DataDirectoryLock;
}

async function start(config: Config, running: Running): Promise<void> {
  if (config.databaseUrl === undefined) {
    running.lock = lockDataDirectory(config.dataDir, new Date());
    say(`Opening the records in ${config.dataDir}`);
  }
  running.opened = await openDatabase({ ...config, durability: 'durable' });
  const { db, engine } = running.opened;
  const { applied } = await migrate(db);
  if (applied.length > 0) log('info', 'migrated', { applied });
  const program = createHash('sha256')
    .update(readFileSync(import.meta.filename))
    .digest('hex');
  await forgetOthersFigures(db, program);
  await forgetDeadImports(db, { isAlone: engine === 'embedded' });
  const now = (): Date => new Date();
  await ensureMill(db, now().getFullYear());
  if (!config.empty && (await isUntouched(db))) {
    say('Writing the invented demo season; start with --empty for your own mill.');
    await loadDemoSeason(db);
  }

  if (config.makeOwner) {
    say(await makeOwner({ db, now }, { input: process.stdin, output: process.stdout }));
    return;
  }
  if (config.signInAlways && !(await ownerCanSignIn(db))) throw new NobodyCanSignInError();

  if (config.backupDir !== undefined)
    running.backups = openBackups({ database: running.opened, directory: config.backupDir, now });
  const { backups } = running;
  const deps = { db, now, signInAlways: config.signInAlways, backups };
  const app = createApp(deps);
  const metrics = createMetrics(() => performance.now());
  const operations = operationRoutes({
    deps,
    backups,
    secret: running.lock?.secret,
    metrics,
    connections: running.opened.connections,
  });
  const webRoot = fileURLToPath(new URL('../web', import.meta.url));
  const site = createSite({
    app,
    webRoot,
    now: () => performance.now(),
    origins: config.origins,
    operations,
    metrics,
  });
  running.server = createAdaptorServer({ fetch: site.fetch }) as Server;
  running.server.listen(config.port, config.host);
  await once(running.server, 'listening');

  const { port } = running.server.address() as AddressInfo;
  const url = `http://${config.host.includes(':') ? `[${config.host}]` : config.host}:${port}`;
  running.lock?.announce(url);
  const others =
    config.origins.length === 0 ? '' : `\nOthers reach it under ${config.origins.join(', ')} and sign in.`;
  backups?.watch();
  say(`Poursheet is ready: ${url}${others}\nTo stop it, press Ctrl+C here.`);
}

/** Lets requests under way end, closes the database and gives the directory free. */
async function stop({ server, backups, opened, lock }: Running): Promise<void> {
  if (server?.listening === true) {
    const closed = once(server, 'close');
    server.close();
    const cutOff = setTimeout(() => server.closeAllConnections(), STOP_WAIT_MS);
    await closed;
    clearTimeout(cutOff);
  }
  await backups?.stop();
  await opened?.close();
  lock?.release();
}

function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

async function main(): Promise<void> {
  const running: Running = {};
  let config: Config | 'help' | undefined;
  try {
    config = readConfig(process.argv.slice(2), process.env);
    if (config === 'help') {
      say(help);
      return;
    }
    setLogLevel(config.logLevel);
    if (config.verify) {
      const { text, exitCode } = await verifyBooks(config);
      say(text);
      process.exitCode = exitCode;
      return;
    }
    if (config.backUpTo !== undefined) return say(await backUp(config, config.backUpTo));
    if (config.restoreFrom !== undefined) return say(await bringBack(config, config.restoreFrom));
    await start(config, running);
    if (config.makeOwner) {
      await stop(running);
      process.exit(0);
    }
  } catch (error) {
    const { message, exitCode } = startMessage(error, config === 'help' ? undefined : config);
    process.stderr.write(`${message}\n`);
    await stop(running);
    process.exit(exitCode);
  }

  // A terminal and npm may each pass the same Ctrl+C on: the first one counts.
  let stopping = false;
  const end = async (exitCode: number): Promise<void> => {
    if (stopping) return;
    stopping = true;
    say('Stopping.');
    await stop(running);
    process.exit(exitCode);
  };
  const endOrFail = (exitCode: number): void => {
    end(exitCode).catch((error: unknown) => {
      logError('stop-failed', { error });
      process.exit(1);
    });
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => endOrFail(0));
  const reason = await running.opened?.stopped;
  logError('database-stopped', { error: reason });
  process.stderr.write(`${reason?.message ?? ''}\n`);
  endOrFail(1);
}

await main();
