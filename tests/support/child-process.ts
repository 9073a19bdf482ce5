import { fork, type ChildProcess } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { build } from 'vite';
import { watchedChild, type WatchedChild } from './watched-child.ts';

const root = join(import.meta.dirname, '../..');
const cache = join(root, 'node_modules/.cache');

export interface ChildProgram {
  /** The program lies in a directory of its own below this one. */
  directory: string;
  start: (
    args?: string[],
    env?: Record<string, string>,
    user?: { uid?: number; gid?: number },
  ) => WatchedChild;
}

/**
 * Bundles a TypeScript file into plain JavaScript, because Node 20 runs no TypeScript, to start it as
 * a process of its own. The processes are killed and the bundle removed after the tests.
 */
export async function childProgram(entry: string): Promise<ChildProgram> {
  mkdirSync(cache, { recursive: true });
  const directory = mkdtempSync(join(cache, 'poursheet-child-'));
  const children: ChildProcess[] = [];
  afterAll(() => {
    for (const child of children) child.kill('SIGKILL');
    rmSync(directory, { recursive: true, force: true });
  });
  const outDir = join(directory, 'program');
  await build({
    configFile: false,
    root,
    logLevel: 'error',
    build: {
      ssr: entry,
      outDir,
      target: 'node20',
      rolldownOptions: { output: { entryFileNames: 'child.mjs' } },
    },
  });
  const start: ChildProgram['start'] = (args = [], env = {}, user = {}) => {
    const child = fork(join(outDir, 'child.mjs'), args, {
      silent: true,
      env: { ...process.env, ...env },
      ...user,
    });
    children.push(child);
    return watchedChild(child);
  };
  return { directory, start };
}
