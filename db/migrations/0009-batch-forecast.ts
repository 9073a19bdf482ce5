import { sql, type Kysely, type Migration } from 'kysely';

const shownOf = (row: string): string => `${row}.id, ${row}.forecast -> 'shown', ${row}.forecast -> 'basis',
  coalesce((select jsonb_agg(plan - 'workedFrom' order by place)
    from jsonb_array_elements(${row}.forecast -> 'superseded') with ordinality as one (plan, place)), '[]')`;

const statements = [
  /*
   * What is shown of a batch's frozen forecast, beside the batch: the forecast carries all that it was worked from, a
   * hundred times as much, which a list of batches would have to read. The database itself keeps the two the same.
   */
  `create table batch_forecast (
     batch_id uuid primary key references batch (id) on delete cascade,
     shown jsonb not null,
     basis jsonb,
     superseded jsonb not null
   )`,
  `create function batch_shows_forecast() returns trigger language plpgsql as $$
   begin
     insert into batch_forecast (batch_id, shown, basis, superseded) select ${shownOf('new')}
       on conflict (batch_id) do update
         set shown = excluded.shown, basis = excluded.basis, superseded = excluded.superseded;
     return null;
   end $$`,
  `create trigger forecast_insert after insert on batch for each row execute function batch_shows_forecast()`,
  `create trigger forecast_update after update of forecast on batch for each row execute function batch_shows_forecast()`,
  `insert into batch_forecast (batch_id, shown, basis, superseded) select ${shownOf('batch')} from batch`,
];

/** What is shown of each batch's forecast, without what it was worked from. */
export const batchForecast: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
