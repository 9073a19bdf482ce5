import { sql, type Kysely, type Migration } from 'kysely';

const KINDS = [
  'rent',
  'repair',
  'permit',
  'insurance',
  'power',
  'transport',
  'assays',
  'fees',
  'wages',
  'wages-paid',
  'royalty-paid',
  'tax-paid',
  'other',
];

const statements = [
  // Wages that pay what hours have cost already are no cost again.
  `alter table expense drop constraint expense_kind_check`,
  `alter table expense add constraint expense_kind_check check (kind in (${KINDS.map((kind) => `'${kind}'`).join(', ')}))`,
  /*
   * What the journal of a month was when it was closed, so that whoever has booked it finds it again, and later changes
   * as corrections. A month that was closed before there was this table, or while a rate was missing, has none.
   */
  `create table closed_month_journal (
     month date primary key references closed_month (month),
     journal jsonb not null
   )`,
  `create trigger journal_closed before update or delete on closed_month_journal
     for each row execute function keep_closed_month()`,
  `select audit_table('closed_month_journal')`,
];

/** Wages paid, and the journals of closed months. */
export const closedJournal: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
