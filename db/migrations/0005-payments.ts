import { sql, type Kysely, type Migration } from 'kysely';

const statements = [
  // `counts_as` is what a payment in another currency settles of the statement, in the statement's own.
  `create table statement_payment (
     id uuid primary key,
     statement_id uuid not null references statement (id),
     paid_on date not null,
     amount numeric not null check (amount > 0),
     currency text not null check (currency ~ '^[A-Z]{3}$'),
     counts_as numeric not null check (counts_as > 0),
     reference text not null default '' check (length(reference) <= 200),
     version integer not null default 1,
     entered_at timestamptz not null default now()
   )`,
  `create index statement_payment_statement on statement_payment (statement_id, paid_on)`,
  `select audit_table('statement_payment', 'statement_id', false)`,
];

/** Payments of issued statements, whichever way they go. */
export const payments: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
