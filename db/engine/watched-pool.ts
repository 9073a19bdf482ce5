import type { PostgresPool, PostgresPoolClient } from 'kysely';
import { EngineStoppedError } from './engine.ts';

interface WatchedPool {
  pool: PostgresPool;
  stopped: Promise<EngineStoppedError>;
  hasStopped: () => boolean;
}

/**
 * After a PANIC the embedded PostgreSQL leaves every later query unanswered. This pool sees the PANIC
 * go by and from then on fails each query at once.
 */
export function watchedPool(pool: PostgresPool): WatchedPool {
  let stoppedBy: EngineStoppedError | undefined;
  let announce: (error: EngineStoppedError) => void;
  const stopped = new Promise<EngineStoppedError>((resolve) => (announce = resolve));

  const watched = (client: PostgresPoolClient): PostgresPoolClient => ({
    query: (async (text: string, parameters: readonly unknown[]) => {
      if (stoppedBy !== undefined) throw stoppedBy;
      try {
        return await client.query(text, parameters);
      } catch (error) {
        if (!endsTheEngine(error)) throw error;
        stoppedBy = new EngineStoppedError(error);
        announce(stoppedBy);
        throw stoppedBy;
      }
    }) as PostgresPoolClient['query'],
    release: (destroy) => client.release(destroy),
  });

  return {
    pool: {
      connect: async () => {
        if (stoppedBy !== undefined) throw stoppedBy;
        return watched(await pool.connect());
      },
      end: () => (stoppedBy === undefined ? pool.end() : Promise.resolve()),
    },
    stopped,
    hasStopped: () => stoppedBy !== undefined,
  };
}

/** A PANIC or FATAL of PostgreSQL, or a failure of the WebAssembly it runs in. */
function endsTheEngine(error: unknown): error is Error {
  if (!(error instanceof Error)) return false;
  const { severity } = error as { severity?: string };
  return severity === 'PANIC' || severity === 'FATAL' || error instanceof WebAssembly.RuntimeError;
}
