import { execFileSync, spawnSync } from 'node:child_process';
import { cpus } from 'node:os';
import { join } from 'node:path';

/** A part of the bench: what it measures, each in a process of its own, and how the report tells it. */
export interface Section {
  /** Its heading in the report. */
  title: string;
  measures: Record<string, () => unknown>;
  write: (results: Record<string, unknown>) => string;
}

/**
 * Makes a section. A measurement gives what can be written as JSON, because it is carried from one process to
 * another; what it gave stands under its name in what `write` is told.
 */
export function sectionOf<Measures extends Record<string, () => unknown>>(section: {
  title: string;
  measures: Measures;
  write: (results: { [Name in keyof Measures]: Awaited<ReturnType<Measures[Name]>> }) => string;
}): Section {
  return section as unknown as Section;
}

export const hasTaskset = spawnSync('taskset', ['--version']).error === undefined;

/** The folder of the bench's sources, as seen from the bundle. */
export const benchFolder = join(import.meta.dirname, '../../tests/bench');

/** Runs a program on one core, the last: the first is the one that most others are put on. */
export function onOneCore(program: string, args: string[]): string {
  const [command, rest] = hasTaskset
    ? ['taskset', ['-c', String(cpus().length - 1), program, ...args]]
    : [program, args];
  return execFileSync(command, rest, {
    encoding: 'utf8',
    maxBuffer: 64_000_000,
    env: { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1', MKL_NUM_THREADS: '1' },
  });
}
