import { fork, type ChildProcess } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { build } from 'vite';

const root = join(import.meta.dirname, '../..');
const cache = join(root, 'node_modules/.cache');

export interface ChildProgram {
  /** The program lies in a directory of its own below this one. */
  directory: string;
  start: (args?: string[], env?: Record<string, string>) => Child;
}

export interface Child {
  process: ChildProcess;
  /** What it has written to stdout and stderr so far. */
  output: () => string;
  /** Resolves with the output when it matches; rejects when the process ends without. */
  written: (pattern: RegExp) => Promise<string>;
  /** Resolves with the exit code or the signal that ended it. */
  ended: Promise<number | NodeJS.Signals>;
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
  const start: ChildProgram['start'] = (args = [], env = {}) => {
    const child = fork(join(outDir, 'child.mjs'), args, { silent: true, env: { ...process.env, ...env } });
    children.push(child);
    return watched(child);
  };
  return { directory, start };
}

function watched(child: ChildProcess): Child {
  let output = '';
  const ended = new Promise<number | NodeJS.Signals>((resolve) => {
    child.on('close', (code, signal) => resolve(code ?? signal ?? 0));
  });
  const written: Child['written'] = (pattern) =>
    new Promise((resolve, reject) => {
      const look = (): void => {
        if (pattern.test(output)) resolve(output);
      };
      child.stdout?.on('data', look);
      child.stderr?.on('data', look);
      void ended.then((code) => reject(new Error(`The process ended with ${code} and wrote:\n${output}`)));
      look();
    });
  const keep = (chunk: Buffer): void => void (output += chunk.toString());
  child.stdout?.on('data', keep);
  child.stderr?.on('data', keep);
  return { process: child, output: () => output, written, ended };
}
