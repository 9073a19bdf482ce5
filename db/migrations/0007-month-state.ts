import { sql, type Kysely, type Migration } from 'kysely';

/** The days that rows of a table count on, by table: a change throws away the states from the month of the first of them. */
const DAYS_OF: Record<string, (rows: string) => string> = {
  supply_purchase: (rows) => `select bought_on as day from ${rows}`,
  supply_count: (rows) => `select counted_on as day from ${rows}`,
  supply_price: (rows) => `select effective_on as day from ${rows}`,
  exchange_rate: (rows) => `select rated_on as day from ${rows}`,
  batch: (rows) => `select least(planned_on, started_on, finished_on) as day from ${rows}`,
  batch_consumption: (rows) =>
    `select least(planned_on, started_on, finished_on) as day from ${rows} one join batch on batch.id = one.batch_id`,
  production_day: (rows) => `select day from ${rows}`,
  production_day_supply: (rows) =>
    `select day from ${rows} one join production_day on production_day.id = one.production_day_id`,
};

/** Records without a day that all states rest on. */
const OF_THE_MILL = ['mill', 'supply', 'treatment', 'treatment_recipe'];

const statements = [
  /*
   * What a month ended with, so that no report walks through all the years before it. Made from the state of the
   * month before when it is asked for (`db/queries/month-states.ts`); nothing rests on it alone.
   */
  `create table month_state (
     month date primary key check (extract(day from month) = 1),
     state jsonb not null
   )`,
  `create function forget_months(first date) returns void language plpgsql as $$
   begin
     if first is null then
       return;
     end if;
     perform records_change();
     delete from month_state where month >= date_trunc('month', first);
   end $$`,
  `create function forget_all_months() returns trigger language plpgsql as $$
   begin
     perform records_change();
     delete from month_state;
     return null;
   end $$`,
  ...Object.entries(DAYS_OF).flatMap(([table, daysOf]) => [
    `create function ${table}_changes_months() returns trigger language plpgsql as $$
     declare
       earliest date;
     begin
       if tg_op <> 'DELETE' then
         select min(day) into earliest from (${daysOf('new_rows')}) as one;
         perform forget_months(earliest);
       end if;
       if tg_op <> 'INSERT' then
         select min(day) into earliest from (${daysOf('old_rows')}) as one;
         perform forget_months(earliest);
       end if;
       return null;
     end $$`,
    `create trigger months_insert after insert on ${table} referencing new table as new_rows
       for each statement execute function ${table}_changes_months()`,
    `create trigger months_update after update on ${table} referencing old table as old_rows new table as new_rows
       for each statement execute function ${table}_changes_months()`,
    `create trigger months_delete after delete on ${table} referencing old table as old_rows
       for each statement execute function ${table}_changes_months()`,
    `create trigger months_emptied after truncate on ${table} for each statement execute function forget_all_months()`,
  ]),
  ...OF_THE_MILL.map(
    (table) =>
      `create trigger months_any after insert or update or delete or truncate on ${table}
         for each statement execute function forget_all_months()`,
  ),
];

/** The stock that each month ended with. */
export const monthState: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
