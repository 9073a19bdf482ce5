import { fork, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { build } from 'vite';

const root = join(import.meta.dirname, '../..');

/**
 * Bundles a TypeScript file into plain JavaScript, because Node 20 runs no TypeScript, and gives a
 * function that starts it as a process of its own. The processes are killed and the bundle removed after the tests.
 */
export async function childProgram(entry: string): Promise<(...args: string[]) => ChildProcess> {
  const outDir = mkdtempSync(join(root, 'node_modules/.cache/poursheet-child-'));
  const children: ChildProcess[] = [];
  afterAll(() => {
    for (const child of children) child.kill('SIGKILL');
    rmSync(outDir, { recursive: true, force: true });
  });
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
  return (...args) => {
    const child = fork(join(outDir, 'child.mjs'), args, { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
    children.push(child);
    return child;
  };
}
