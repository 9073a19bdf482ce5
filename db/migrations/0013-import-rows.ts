import { sql, type Kysely, type Migration } from 'kysely';

/**
 * Where an import keeps its new rows while it reads its file, in short transactions, until all are known and go into
 * the books in one. Not of the books themselves: unlogged, so that a crash empties it, and in no backup.
 */
const statements = [
  `create unlogged table import_row (
     import_id uuid not null,
     place integer not null,
     entry jsonb not null,
     staged_at timestamptz not null default now(),
     primary key (import_id, place)
   )`,
];

export const importRows: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
