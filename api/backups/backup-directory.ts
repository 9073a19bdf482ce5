import { existsSync, mkdirSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { keptMoments } from './retention.ts';

export interface KeptBackup {
  file: string;
  madeAt: Date;
  sizeBytes: number;
}

const NAME = /^books-(\d{4}-\d\d-\d\d)T(\d\d)-(\d\d)-(\d\d)\.(\d{3})Z\.jsonl\.gz$/;

/** The name of a backup says when it was made. */
export function fileName(madeAt: Date): string {
  return `books-${madeAt.toISOString().replaceAll(':', '-')}.jsonl.gz`;
}

/** When a backup was made, by its name; undefined for any other file. */
export function momentOf(name: string): Date | undefined {
  const [, day, hour, minute, second, ms] = NAME.exec(name) ?? [];
  return day === undefined ? undefined : new Date(`${day}T${hour}:${minute}:${second}.${ms}Z`);
}

/** The backups in a directory, the latest first; none where it is not there yet. */
export function keptIn(directory: string): KeptBackup[] {
  if (!existsSync(directory)) return [];
  return readdirSync(directory)
    .flatMap((file) => {
      const madeAt = momentOf(file);
      return madeAt === undefined ? [] : [{ file, madeAt, sizeBytes: statSync(join(directory, file)).size }];
    })
    .sort((a, b) => b.madeAt.getTime() - a.madeAt.getTime());
}

/** Makes the directory where it is not there; nobody else of this machine need look into it. */
export function makeDirectory(directory: string): void {
  mkdirSync(directory, { recursive: true, mode: 0o700 });
}

/** Removes the backups that are no longer kept and gives their names. */
export function removeOld(directory: string): string[] {
  const all = keptIn(directory);
  const keep = keptMoments(all.map(({ madeAt }) => madeAt));
  const old = all.filter(({ madeAt }) => !keep.has(madeAt)).map(({ file }) => file);
  for (const file of old) rmSync(join(directory, file), { force: true });
  return old;
}
