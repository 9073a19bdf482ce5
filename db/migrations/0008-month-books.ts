import { sql, type Kysely, type Migration } from 'kysely';

/**
 * The days that rows of a table count on, by table: a change throws away the books from the month of the first of
 * them. What moves the stock of supplies throws the books away through `forget_months` (0007-month-state).
 */
const DAYS_OF: Record<string, (rows: string) => string> = {
  lot: (rows) => `select made_on as day from ${rows}`,
  lot_part: (rows) => `select taken_on as day from ${rows}`,
  lot_purchase: (rows) => `select bought_on as day from ${rows}`,
  test_smelt: (rows) => `select smelted_on as day from ${rows}`,
  product: (rows) => `select made_on as day from ${rows}`,
  shipment: (rows) => `select shipped_on as day from ${rows}`,
  shipment_product: (rows) =>
    `select shipped_on as day from ${rows} one join shipment on shipment.id = one.shipment_id`,
  // A statement may say that its product was sent before it was issued. A draft says nothing.
  statement: (rows) =>
    `select least(issued_on, (input #>> '{entry,dates,shippedOn}')::date) as day from ${rows} where status = 'issued'`,
  statement_payment: (rows) => `select paid_on as day from ${rows}`,
  expense: (rows) => `select spent_on as day from ${rows}`,
  write_off: (rows) => `select written_off_on as day from ${rows}`,
  production_day_labour: (rows) =>
    `select day from ${rows} one join production_day on production_day.id = one.production_day_id`,
};

const changed = (...columns: string[]): string =>
  `(${columns.map((name) => `old.${name}`).join(', ')}) is distinct from (${columns.map((name) => `new.${name}`).join(', ')})`;

/** By table and event, the changes of records without a day that costs rest on. A first lead is that of litharge. */
const COSTED_BY: Record<string, Record<string, string>> = {
  mill: { update: changed('currency') },
  supply: { insert: `new.kind = 'lead'`, update: changed('name', 'kind', 'unit') },
  treatment: { update: changed('labour_supply_id') },
};

/** Records without a day that the words of all books rest on; new ones are in no books yet. */
const OF_THE_MILL = ['counterparty', 'terms'];

const statements = [
  /*
   * What a month counts, by its records as they are, so that no report reads a year of them: its entries, their sums,
   * and what differs from what was frozen where the month is closed (`db/queries/month-books.ts`).
   */
  `create table month_book (
     month date primary key check (extract(day from month) = 1),
     entries jsonb not null,
     summary jsonb not null
   )`,
  /*
   * The lots, batches and products that were at the mill or with a buyer at the end of a month: whatever lies there
   * later is among them or came later (`db/queries/mill-state.ts`).
   */
  `create table month_place (
     month date primary key check (extract(day from month) = 1),
     lots uuid[] not null,
     batches uuid[] not null,
     products uuid[] not null
   )`,
  // The program that worked what is kept: another one may work it otherwise.
  `create table kept_by (
     only_one boolean primary key default true check (only_one),
     program text not null
   )`,
  `create function forget_month_books(first date) returns void language plpgsql as $$
   begin
     if first is null then
       return;
     end if;
     perform records_change();
     delete from month_book where month >= date_trunc('month', first);
     delete from month_place where month >= date_trunc('month', first);
   end $$`,
  `create function forget_all_month_books() returns trigger language plpgsql as $$
   begin
     perform records_change();
     delete from month_book;
     delete from month_place;
     return null;
   end $$`,
  `create or replace function forget_months(first date) returns void language plpgsql as $$
   begin
     perform forget_month_books(first);
     if first is not null then
       delete from month_state where month >= date_trunc('month', first);
     end if;
   end $$`,
  `create or replace function forget_all_months() returns trigger language plpgsql as $$
   begin
     perform records_change();
     delete from month_state;
     delete from month_book;
     delete from month_place;
     return null;
   end $$`,
  ...Object.entries(DAYS_OF).flatMap(([table, daysOf]) => [
    `create function ${table}_changes_books() returns trigger language plpgsql as $$
     declare
       earliest date;
     begin
       if tg_op <> 'DELETE' then
         select min(day) into earliest from (${daysOf('new_rows')}) as one;
         perform forget_month_books(earliest);
       end if;
       if tg_op <> 'INSERT' then
         select min(day) into earliest from (${daysOf('old_rows')}) as one;
         perform forget_month_books(earliest);
       end if;
       return null;
     end $$`,
    `create trigger books_insert after insert on ${table} referencing new table as new_rows
       for each statement execute function ${table}_changes_books()`,
    `create trigger books_update after update on ${table} referencing old table as old_rows new table as new_rows
       for each statement execute function ${table}_changes_books()`,
    `create trigger books_delete after delete on ${table} referencing old table as old_rows
       for each statement execute function ${table}_changes_books()`,
    `create trigger books_emptied after truncate on ${table} for each statement execute function forget_all_month_books()`,
  ]),
  // Of the mill, its supplies and treatments, only what costs are worked from throws all months away.
  ...Object.entries(COSTED_BY).flatMap(([table, changes]) => [
    `drop trigger months_any on ${table}`,
    ...Object.entries(changes).map(
      ([event, when]) =>
        `create trigger months_${event} after ${event} on ${table} for each row when (${when})
           execute function forget_all_months()`,
    ),
    `create trigger months_emptied after delete or truncate on ${table}
       for each statement execute function forget_all_months()`,
  ]),
  ...OF_THE_MILL.map(
    (table) =>
      `create trigger books_any after update or delete or truncate on ${table}
         for each statement execute function forget_all_month_books()`,
  ),
  // A closed month is told apart from its records as they are; nothing else of the books changes by closing it.
  `create function closing_changes_books() returns trigger language plpgsql as $$
   begin
     perform records_change();
     delete from month_book where month = coalesce(new.month, old.month);
     return null;
   end $$`,
  `create trigger books_closed after insert or update or delete on closed_month
     for each row execute function closing_changes_books()`,
  `create trigger books_emptied after truncate on closed_month for each statement execute function forget_all_month_books()`,

  `create index test_smelt_smelted on test_smelt (smelted_on)`,
  `create index batch_planned on batch (planned_on)`,
  `create index statement_issued on statement (issued_on) where status = 'issued'`,
  `create index statement_payment_paid on statement_payment (paid_on)`,
];

/** The books of each month, kept, and the ways to find a month's records. */
export const monthBooks: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
