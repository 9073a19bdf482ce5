import { existsSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { BackupError } from '../../db/backup/format.ts';
import { restoreBackup } from '../../db/backup/restore.ts';
import { lockDataDirectory } from '../../db/engine/data-directory-lock.ts';
import { openDatabase, type OpenOptions } from '../../db/open.ts';
import type { Config } from '../config.ts';

/** Brings a backup back into an empty place, all of it or nothing; says so in a sentence. */
export async function bringBack({ databaseUrl, dataDir }: Config, file: string): Promise<string> {
  const path = resolve(file);
  if (!existsSync(path)) throw new BackupError(`There is no file ${path}.`);
  if (databaseUrl !== undefined) return restore({ databaseUrl, durability: 'durable' }, path, 'the database');
  const lock = lockDataDirectory(dataDir, new Date());
  const database = join(dataDir, 'database');
  const wasThere = existsSync(database);
  try {
    return await restore({ dataDir, durability: 'durable' }, path, dataDir);
  } catch (error) {
    if (!wasThere) rmSync(database, { recursive: true, force: true });
    throw error;
  } finally {
    lock.release();
  }
}

async function restore(place: OpenOptions, path: string, where: string): Promise<string> {
  const { db, close } = await openDatabase(place);
  try {
    const { madeAt, rows, tables, applied } = await restoreBackup(db, path);
    const later =
      applied.length === 0
        ? ''
        : ` It is of an older version and was brought up to date (${applied.join(', ')}).`;
    return `The books of ${madeAt} are brought back into ${where}: ${rows} rows of ${tables} tables.${later} To check them, use --verify with the same settings.`;
  } finally {
    await close();
  }
}
