import { sql, type Kysely, type Migration } from 'kysely';

const statements = [
  `alter table imported_file drop constraint imported_file_kind_check`,
  `alter table imported_file
     add constraint imported_file_kind_check
     check (kind in ('lots', 'test-smelts', 'quotations', 'days', 'purchases'))`,
];

/** Files of purchases can be imported. */
export const purchaseImports: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
