import { fork } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { watchedChild } from './watched-child.ts';

const server = join(import.meta.dirname, '../../.build/server/server.js');

export interface RunningPoursheet {
  url: string;
  /** What the program has written so far. */
  output: () => string;
  /** Stops it as Ctrl+C does, and removes its records. */
  stop: () => Promise<void>;
}

/** Starts the built program, pages and all, with the demonstration or empty, on records of its own. */
export async function startPoursheet({ empty = false } = {}): Promise<RunningPoursheet> {
  if (!existsSync(server)) throw new Error(`There is no ${server}: run "npm run build" first.`);
  const dataDir = mkdtempSync(join(tmpdir(), 'poursheet-e2e-'));
  const backups = join(dataDir, 'backups');
  const args = ['--port', '0', '--data', dataDir, '--backups', backups, ...(empty ? ['--empty'] : [])];
  const { DATABASE_URL: _elsewhere, ...env } = process.env;
  const child = watchedChild(fork(server, args, { silent: true, env }));
  const killAtExit = (): void => void child.process.kill('SIGKILL');
  process.once('exit', killAtExit);
  const [, url] = /is ready: (http:\S+)/.exec(await child.written(/is ready: http:\S+\n/)) ?? [];
  return {
    url: url ?? '',
    output: child.output,
    stop: async () => {
      child.process.kill('SIGINT');
      const code = await child.ended;
      process.off('exit', killAtExit);
      rmSync(dataDir, { recursive: true, force: true });
      if (code !== 0) throw new Error(`Poursheet ended with ${code} and wrote:\n${child.output()}`);
    },
  };
}
