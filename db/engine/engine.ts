import type { PostgresPool } from 'kysely';
import type pg from 'pg';

/** Connections to the database just now, and how many queries wait for one. */
export interface Connections {
  open: number;
  idle: number;
  waiting: number;
}

/** A place where SQL runs, whichever PostgreSQL is behind it. */
export interface Engine {
  pool: PostgresPool;
  connections: () => Connections;
  /** Never rejects; resolves if the engine stops by itself and answers no more. */
  stopped: Promise<EngineStoppedError>;
  close: () => Promise<void>;
}

/** How long a query waits for a free connection before it fails, in milliseconds. */
export const CONNECTION_WAIT_MS = 10_000;

/** Thrown when no connection came free in time. */
export class ConnectionWaitError extends Error {
  override name = 'ConnectionWaitError';
  constructor(cause: unknown) {
    super(
      `No database connection came free within ${CONNECTION_WAIT_MS / 1000} s. ` +
        'Inside a transaction every query must go through its trx: a query on db waits for the transaction it is part of.',
      { cause },
    );
  }
}

/** Thrown when the embedded PostgreSQL does not start on what is in its directory. */
export class DatabaseNotOpenedError extends Error {
  override name = 'DatabaseNotOpenedError';
  constructor(directory: string, cause: unknown) {
    const said = cause instanceof Error ? cause.message.split('\n')[0] : '';
    super(
      `The database in ${directory} does not open${said === '' ? '' : ` (${said})`}. ` +
        'Files of it may be missing or damaged, or the disk may be full. Look at the disk and start again; if it stays so, bring a backup back into an empty directory with --restore.',
      { cause },
    );
  }
}

/** Thrown when the embedded PostgreSQL gave up, as it does when the disk does not take its log. */
export class EngineStoppedError extends Error {
  override name = 'EngineStoppedError';
  constructor(cause: Error) {
    super(
      `The database stopped by itself: ${cause.message}. What was acknowledged before is kept. ` +
        'Look at the free space and the health of the disk, then start Poursheet again.',
      { cause },
    );
  }
}

/** The face of a pg pool that Kysely needs, with a clear error in place of pg's bare "timeout exceeded". */
export function poolFace(pool: pg.Pool): PostgresPool {
  return {
    connect: async () => {
      try {
        return await pool.connect();
      } catch (error) {
        if (error instanceof Error && error.message.startsWith('timeout exceeded'))
          throw new ConnectionWaitError(error);
        throw error;
      }
    },
    end: () => pool.end(),
  };
}

export function connectionsOf({ totalCount, idleCount, waitingCount }: pg.Pool): Connections {
  return { open: totalCount, idle: idleCount, waiting: waitingCount };
}
