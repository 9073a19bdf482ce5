import { CamelCasePlugin, Kysely, PostgresDialect, sql } from 'kysely';
import { openEmbedded, type EmbeddedOptions } from './engine/embedded.ts';
import type { Connections, Engine } from './engine/engine.ts';
import { openServer } from './engine/server.ts';
import type { Database } from './schema.ts';

export interface OpenOptions extends EmbeddedOptions {
  /** URL of a PostgreSQL server, 15 or newer; without one the database runs inside this process. */
  databaseUrl?: string | undefined;
}

export interface OpenDatabase {
  db: Kysely<Database>;
  engine: 'embedded' | 'server';
  connections: () => Connections;
  /** Resolves if the embedded database stops by itself: the program can only stop too. */
  stopped: Promise<Error>;
  close: () => Promise<void>;
}

/** Opens the database and asks it one question, so that a wrong URL or directory is known at once. */
export async function openDatabase(options: OpenOptions): Promise<OpenDatabase> {
  const { databaseUrl } = options;
  const engine = databaseUrl === undefined ? await openEmbedded(options) : openServer(databaseUrl);
  const db = kyselyOver(engine);
  const close = async (): Promise<void> => {
    await db.destroy();
    await engine.close();
  };
  try {
    await sql`select 1`.execute(db);
  } catch (error) {
    await close();
    throw error;
  }
  return {
    db,
    engine: databaseUrl === undefined ? 'embedded' : 'server',
    connections: engine.connections,
    stopped: engine.stopped,
    close,
  };
}

/** Columns are snake_case in SQL and camelCase in code; what is inside a jsonb value is left as it was. */
function kyselyOver({ pool }: Engine): Kysely<Database> {
  return new Kysely<Database>({
    dialect: new PostgresDialect({ pool }),
    plugins: [new CamelCasePlugin({ maintainNestedObjectKeys: true })],
  });
}
