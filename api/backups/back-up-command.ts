import { existsSync, renameSync } from 'node:fs';
import { copyFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { BackupError } from '../../db/backup/format.ts';
import { writeBackup } from '../../db/backup/write.ts';
import { DataDirectoryInUseError, lockDataDirectory } from '../../db/engine/data-directory-lock.ts';
import { syncPath } from '../../db/engine/durable-file-system.ts';
import { openDatabase, type OpenOptions } from '../../db/open.ts';
import type { Config } from '../config.ts';
import { MACHINE_BACKUPS } from './at-this-machine.ts';

/** Writes all of the books to one file, whether or not a Poursheet runs on them just now; says so in a sentence. */
export async function backUp({ databaseUrl, dataDir }: Config, file: string): Promise<string> {
  const path = resolve(file);
  if (existsSync(path))
    throw new BackupError(`There is a file ${path} already. Name another: a backup replaces nothing.`);
  if (!existsSync(dirname(path)))
    throw new BackupError(`There is no directory ${dirname(path)} to write the backup to.`);
  if (databaseUrl !== undefined) return write({ databaseUrl, durability: 'durable' }, path);
  if (!existsSync(join(dataDir, 'database')))
    throw new BackupError(`There are no books in ${dataDir}. Name their directory with --data.`);
  try {
    const lock = lockDataDirectory(dataDir, new Date());
    try {
      return await write({ dataDir, durability: 'durable' }, path);
    } finally {
      lock.release();
    }
  } catch (error) {
    if (!(error instanceof DataDirectoryInUseError) || error.holder === undefined) throw error;
    return await askTheRunning(error.holder, path);
  }
}

async function write(place: OpenOptions, path: string): Promise<string> {
  const opened = await openDatabase(place);
  try {
    const { rows, sizeBytes } = await writeBackup(opened, { path, madeAt: new Date() });
    return told(path, sizeBytes, `${rows} rows`);
  } finally {
    await opened.close();
  }
}

/** One program alone may open the embedded database: the one that has it makes the backup. */
async function askTheRunning(
  { url, secret }: { url: string; secret: string },
  path: string,
): Promise<string> {
  const { port } = new URL(url);
  const answer = await fetch(`http://127.0.0.1:${port}${MACHINE_BACKUPS}`, {
    method: 'POST',
    headers: { authorization: `Bearer ${secret}` },
  });
  const made = (await answer.json()) as { path?: string; sizeBytes?: number; detail?: string };
  if (made.path === undefined || made.sizeBytes === undefined)
    throw new BackupError(`The running Poursheet at ${url} made no backup. ${made.detail ?? ''}`.trim());
  const making = `${path}.making-${process.pid}`;
  await copyFile(made.path, making);
  syncPath(making);
  renameSync(making, path);
  return told(path, made.sizeBytes, 'made by the Poursheet that is running');
}

function told(path: string, sizeBytes: number, how: string): string {
  return `The books are backed up in ${path} (${Math.ceil(sizeBytes / 1000)} kB, ${how}). Whoever has this file has the books: keep it as safe.`;
}
