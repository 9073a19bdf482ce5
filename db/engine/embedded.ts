import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { PGlite, type PGliteOptions } from '@electric-sql/pglite';
import { NodeFS } from '@electric-sql/pglite/nodefs';
import { createPgConfig } from '@electric-sql/pglite/node-postgres';
import pg from 'pg';
import { DurableNodeFS, durableStartParams, syncPath, syncTree } from './durable-file-system.ts';
import {
  CONNECTION_WAIT_MS,
  connectionsOf,
  DatabaseNotOpenedError,
  poolFace,
  type Engine,
} from './engine.ts';
import { typeParsers } from './type-parsers.ts';
import { requireUsable } from './usable-directory.ts';
import { watchedPool } from './watched-pool.ts';

/**
 * - durable: every commit reaches the disk before it is acknowledged; for the owner's records
 * - fast: a power cut may lose the last seconds; for tests
 */
export type Durability = 'durable' | 'fast';

export interface EmbeddedOptions {
  /** Directory of the database; without one it lives in memory and is gone at close. */
  dataDir?: string | undefined;
  durability: Durability;
  /** What `dump` gave, to begin from instead of an empty database. */
  image?: Blob | undefined;
}

export interface EmbeddedEngine extends Engine {
  /** The whole database directory as an uncompressed tar. */
  dump: () => Promise<Blob>;
}

/** Opens PostgreSQL inside this process. The caller holds the data directory's lock. */
export async function openEmbedded({ dataDir, durability, image }: EmbeddedOptions): Promise<EmbeddedEngine> {
  const pglite =
    dataDir === undefined
      ? await startPGlite({ loadDataDir: image })
      : await startInDirectory(dataDir, durability, image);
  const transport = { connection: createPgConfig(pglite).connection };
  // pg itself is the client on both engines, so parameters and rows are written and read alike.
  const pool = new pg.Pool({
    ...transport,
    max: 1,
    idleTimeoutMillis: 0,
    connectionTimeoutMillis: CONNECTION_WAIT_MS,
    types: typeParsers,
  });
  const { pool: watched, stopped, hasStopped } = watchedPool(poolFace(pool));
  return {
    pool: watched,
    connections: () => connectionsOf(pool),
    stopped,
    close: () => (hasStopped() ? Promise.resolve() : pglite.close()),
    dump: () => pglite.dumpDataDir('none'),
  };
}

async function startInDirectory(dataDir: string, durability: Durability, image?: Blob): Promise<PGlite> {
  const directory = join(dataDir, 'database');
  const start = (path: string): Promise<PGlite> =>
    durability === 'durable'
      ? startPGlite({ fs: new DurableNodeFS(path), startParams: durableStartParams, loadDataDir: image })
      : startPGlite({ fs: new NodeFS(path), loadDataDir: image });

  if (!existsSync(directory)) {
    // Made beside and renamed when whole, so that a start cut short leaves nothing half-made behind.
    const making = join(dataDir, 'database.making');
    rmSync(making, { recursive: true, force: true });
    mkdirSync(making, { recursive: true });
    await (await start(making)).close();
    if (durability === 'durable') syncTree(making);
    renameSync(making, directory);
    if (durability === 'durable') syncPath(dataDir);
  }
  requireUsable(dataDir);
  try {
    return await startPGlite(
      durability === 'durable'
        ? { fs: new DurableNodeFS(directory), startParams: durableStartParams }
        : { fs: new NodeFS(directory) },
    );
  } catch (error) {
    throw new DatabaseNotOpenedError(directory, error);
  }
}

async function startPGlite({ startParams, ...options }: PGliteOptions): Promise<PGlite> {
  const pglite = new PGlite({
    ...options,
    startParams: [...(startParams ?? PGlite.defaultStartParams), '-c', 'timezone=UTC'],
  });
  await pglite.waitReady;
  return pglite;
}
