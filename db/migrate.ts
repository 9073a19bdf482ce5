import { Migrator, sql, type Kysely, type MigrationResultSet } from 'kysely';
import { migrations } from './migrations/index.ts';
import type { Database } from './schema.ts';

/** Thrown when the database holds migrations that this program does not know. */
export class NewerDatabaseError extends Error {
  override name = 'NewerDatabaseError';
  constructor(unknownMigrations: string[]) {
    super(
      `This database was last used by a newer version of Poursheet (it holds ${unknownMigrations.join(', ')}, ` +
        'which this version does not know). Start the newer version again; this one leaves the database untouched.',
    );
  }
}

const provider = { getMigrations: () => Promise.resolve(migrations) };

/** Brings the database to this program's version, all or nothing; says which migrations it ran. */
export async function migrate(db: Kysely<Database>): Promise<{ applied: string[] }> {
  const unknown = unknownMigrations(await migrationsIn(db));
  if (unknown.length > 0) throw new NewerDatabaseError(unknown);

  const migrator = new Migrator({ db, provider });
  return outcome(await migrator.migrateToLatest());
}

/** Brings an open transaction's database to one version, or to this program's. */
export async function migrateWithin(
  trx: Kysely<Database>,
  last = Object.keys(migrations).sort().at(-1),
): Promise<{ applied: string[] }> {
  const migrator = new Migrator({ db: oneConnection(trx), provider, disableTransactions: true });
  return outcome(last === undefined ? {} : await migrator.migrateTo(last));
}

/** The migrator asks for one connection to work on, which a transaction has already. */
function oneConnection(trx: Kysely<Database>): Kysely<Database> {
  const connection = () => ({
    execute: <Result>(work: (db: Kysely<Database>) => Promise<Result>): Promise<Result> => work(trx),
  });
  return new Proxy(trx, {
    get: (_trx, name) => {
      if (name === 'connection') return connection;
      const member: unknown = Reflect.get(trx, name, trx);
      return typeof member === 'function' ? (member.bind(trx) as unknown) : member;
    },
  });
}

/** Those of some migrations that this program does not know. */
export function unknownMigrations(names: readonly string[]): string[] {
  return names.filter((name) => !Object.hasOwn(migrations, name));
}

function outcome({ error, results = [] }: MigrationResultSet): { applied: string[] } {
  if (error !== undefined) {
    const failed = results.find((result) => result.status === 'Error')?.migrationName;
    throw new Error(
      failed === undefined
        ? 'The database could not be brought up to date; nothing was changed.'
        : `The database could not be brought up to date: ${failed} failed and nothing was changed.`,
      { cause: error },
    );
  }
  return { applied: results.map((result) => result.migrationName) };
}

async function migrationsIn(db: Kysely<Database>): Promise<string[]> {
  const found = await sql<{
    name: string | null;
  }>`select to_regclass('kysely_migration')::text as name`.execute(db);
  if (found.rows[0]?.name == null) return [];
  const names = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(db);
  return names.rows.map((row) => row.name);
}
