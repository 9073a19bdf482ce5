import { join } from 'node:path';
import { log, logError } from '../log.ts';
import { writeBackup } from '../../db/backup/write.ts';
import type { OpenDatabase } from '../../db/open.ts';
import { fileName, keptIn, makeDirectory, momentOf, removeOld, type KeptBackup } from './backup-directory.ts';

const HOUR_MS = 3_600_000;
/** A new one is made when the last is as old as this. */
const EVERY_MS = 24 * HOUR_MS;
/** A start is busy enough: the first look is a little later. */
const FIRST_LOOK_MS = 60_000;

export interface Backups {
  directory: string;
  kept: () => KeptBackup[];
  /** Makes one now; whoever asks while one is under way gets that one. */
  make: () => Promise<KeptBackup>;
  /** Makes one if the last is a day old. Never fails: what went wrong is in the log and in `lastFailure`. */
  makeIfDue: () => Promise<void>;
  lastFailure: () => { at: Date; reason: string } | null;
  /** The path of one of them; undefined for any other name. */
  pathOf: (file: string) => string | undefined;
  /** Looks from now on every hour whether one is due. */
  watch: () => void;
  /** Stops looking, and waits for one under way. */
  stop: () => Promise<void>;
}

/** The backups of one mill, in one directory. */
export function openBackups({
  database,
  directory,
  now,
}: {
  database: Pick<OpenDatabase, 'db' | 'engine'>;
  directory: string;
  now: () => Date;
}): Backups {
  let underWay: Promise<KeptBackup> | undefined;
  let failure: { at: Date; reason: string } | null = null;
  const timers: NodeJS.Timeout[] = [];

  const write = async (): Promise<KeptBackup> => {
    const madeAt = now();
    const file = fileName(madeAt);
    try {
      makeDirectory(directory);
      const { sizeBytes, rows } = await writeBackup(database, { path: join(directory, file), madeAt });
      failure = null;
      const removed = removeOld(directory);
      log('info', 'backup-made', { file, sizeBytes, rows, removed });
      return { file, madeAt, sizeBytes };
    } catch (error) {
      failure = { at: madeAt, reason: error instanceof Error ? error.message : String(error) };
      logError('backup-failed', { directory, error });
      throw error;
    }
  };
  const make = (): Promise<KeptBackup> =>
    (underWay ??= write().finally(() => {
      underWay = undefined;
    }));
  const makeIfDue = async (): Promise<void> => {
    try {
      const [last] = keptIn(directory);
      if (last === undefined || now().getTime() - last.madeAt.getTime() >= EVERY_MS) await make();
    } catch (error) {
      failure ??= { at: now(), reason: error instanceof Error ? error.message : String(error) };
    }
  };

  return {
    directory,
    kept: () => keptIn(directory),
    make,
    makeIfDue,
    lastFailure: () => failure,
    pathOf: (file) => (momentOf(file) === undefined ? undefined : join(directory, file)),
    watch: () => {
      timers.push(setTimeout(() => void makeIfDue(), FIRST_LOOK_MS).unref());
      timers.push(setInterval(() => void makeIfDue(), HOUR_MS).unref());
    },
    stop: async () => {
      for (const timer of timers) clearTimeout(timer);
      await underWay?.catch(() => undefined);
    },
  };
}
