import pg from 'pg';
import { CONNECTION_WAIT_MS, connectionsOf, poolFace, type Engine } from './engine.ts';
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
  // Nor may one that is lost between two queries of a transaction: the next of them fails and says so.
  pool.on('connect', (client) => client.on('error', () => undefined));
  return {
    pool: poolFace(pool),
    connections: () => connectionsOf(pool),
    stopped: new Promise(() => {}),
    close: () => Promise.resolve(),
  };
}
