import pg from 'pg';
import { CONNECTION_WAIT_MS, poolFace, type Engine } from './engine.ts';
import { typeParsers } from './type-parsers.ts';

/** Opens a PostgreSQL server by its URL. */
export function openServer(databaseUrl: string): Engine {
  const pool = new pg.Pool({
    connectionString: databaseUrl,
    max: 8,
    connectionTimeoutMillis: CONNECTION_WAIT_MS,
    options: '-c timezone=UTC',
    application_name: 'poursheet',
    types: typeParsers,
  });
  // Without a listener a server that drops an idle connection would end the process; the next query reconnects.
  pool.on('error', (error) => {
    process.stderr.write(
      `${JSON.stringify({ level: 'warning', event: 'database-connection-lost', detail: error.message })}\n`,
    );
  });
  return { pool: poolFace(pool), stopped: new Promise(() => {}), close: () => Promise.resolve() };
}
