import { sql, type Kysely, type Migration } from 'kysely';

/**
 * Figures that are worked from the records and kept, because working them anew on every look would take too long:
 * what each lot holds, and what each month ended with. Nothing rests on them alone. A change of a record throws away,
 * in its own transaction, whatever was worked from it; the next look works it anew (`db/queries/kept.ts`).
 */

/** Held shared by whoever changes records, until the change is committed; `db/queries/kept.ts` names it too. */
const LOCK = 7_031_106;

const shared = [
  // Counted up by every change, committed or not, so that a figure worked from records read before it is not kept.
  `create sequence kept_figures_change`,
  `create function records_change() returns void language plpgsql as $$
   begin
     perform pg_advisory_xact_lock_shared(${LOCK});
     perform nextval('kept_figures_change');
   end $$`,
];

const grades = [
  // No foreign keys: a lot takes its grade with it by its own trigger, and nobody waits for a lock.
  `create table lot_grade (
     lot_id uuid primary key,
     made_on date not null,
     grade jsonb not null
   )`,
  `create index lot_grade_made on lot_grade (made_on)`,
  // What the tests of a lot say of treatments, by its own records alone.
  `create table lot_recovery (
     lot_id uuid primary key,
     recoveries jsonb not null
   )`,
  `create index lot_made on lot (made_on, code)`,
  /*
   * A lot's grade rests on its own records, on those of the lots that it was made from, and on what the lots before
   * it have shown of the treatments. So a change of a lot throws away the grades of the lots made from its day on,
   * and of those made from it, whatever their day.
   */
  `create function forget_grades(lots uuid[], first date) returns void language plpgsql as $$
   begin
     if lots is null then
       return;
     end if;
     perform records_change();
     delete from lot_recovery where lot_id = any (lots);
     delete from lot_grade
       where made_on >= least(first, (select min(made_on) from lot where id = any (lots)))
         or lot_id in (
           with recursive onward (lot_id) as (
             select unnest(lots)
             union
             select part.lot_id from onward
               join lateral (
                 select lot_part.lot_id from lot_part where lot_part.from_lot_id = onward.lot_id
                 union all
                 select lot_part.lot_id from batch
                   join product on product.batch_id = batch.id
                   join lot_part on lot_part.product_id = product.id
                   where batch.lot_id = onward.lot_id
               ) as part on true
           )
           select lot_id from onward
         );
   end $$`,
  `create function forget_all_grades() returns trigger language plpgsql as $$
   begin
     perform records_change();
     delete from lot_recovery;
     delete from lot_grade;
     return null;
   end $$`,
  `create function lot_changes_grades() returns trigger language plpgsql as $$
   declare
     lots uuid[];
     first date;
   begin
     if tg_op = 'INSERT' then
       select array_agg(id), min(made_on) into lots, first from new_rows;
     elsif tg_op = 'DELETE' then
       select array_agg(id), min(made_on) into lots, first from old_rows;
     else
       select array_agg(now.id), min(least(now.made_on, was.made_on)) into lots, first
         from new_rows now full join old_rows was on was.id = now.id
         where (now.code, now.made_on, now.wet_mass_kg, now.moisture_frac)
           is distinct from (was.code, was.made_on, was.wet_mass_kg, was.moisture_frac);
     end if;
     perform forget_grades(lots, first);
     return null;
   end $$`,
];

/** The lots that a row of a table speaks of, by table. */
const LOTS_OF: Record<string, (rows: string) => string> = {
  lot_mineral: (rows) => `select lot_id from ${rows}`,
  lot_sampling: (rows) => `select lot_id from ${rows}`,
  lab_assay: (rows) => `select lot_id from ${rows}`,
  trial: (rows) => `select lot_id from ${rows}`,
  lot_part: (rows) => `select lot_id from ${rows}`,
  test_smelt: (rows) => `select trial.lot_id from ${rows} one join trial on trial.id = one.trial_id`,
  test_smelt_reagent: (rows) =>
    `select trial.lot_id from ${rows} one join test_smelt on test_smelt.id = one.test_smelt_id
      join trial on trial.id = test_smelt.trial_id`,
  product: (rows) => `select lot_part.lot_id from ${rows} one join lot_part on lot_part.product_id = one.id`,
  batch: (rows) =>
    `select lot_part.lot_id from ${rows} one join product on product.batch_id = one.id
      join lot_part on lot_part.product_id = product.id`,
};

/** Records of the mill that the grade of every lot rests on; of some of them only what is named here. */
const OF_THE_MILL: Record<string, { events: string[]; columns?: string[] }> = {
  balance: {
    events: ['update', 'delete'],
    columns: ['name', 'readability_g', 'repeatability_g', 'repeatability_from'],
  },
  balance_check: { events: ['insert', 'update', 'delete'] },
  balance_reading: { events: ['insert', 'update', 'delete'] },
  cupellation: { events: ['insert', 'update', 'delete'] },
  cupellation_proof: { events: ['insert', 'update', 'delete'] },
  supply: { events: ['update', 'delete'], columns: ['name', 'kind'] },
  treatment: {
    events: ['update', 'delete'],
    columns: [
      'name',
      'gold_recovery_mean_frac',
      'gold_recovery_sd_frac',
      'silver_recovery_mean_frac',
      'silver_recovery_sd_frac',
    ],
  },
};

const TABLES: Record<string, string> = {
  insert: 'new table as new_rows',
  update: 'old table as old_rows new table as new_rows',
  delete: 'old table as old_rows',
};

function triggersOf(table: string, runs: string, kept: string): string[] {
  return Object.entries(TABLES).map(
    ([event, tables]) =>
      `create trigger ${kept}_${event} after ${event} on ${table} referencing ${tables}
         for each statement execute function ${runs}()`,
  );
}

function lotTriggers(table: string, lotsOf: (rows: string) => string): string[] {
  const runs = `${table}_changes_grades`;
  return [
    `create function ${runs}() returns trigger language plpgsql as $$
     declare
       lots uuid[];
     begin
       if tg_op <> 'DELETE' then
         select array_agg(distinct lot_id) into lots from (${lotsOf('new_rows')}) as one;
       end if;
       perform forget_grades(lots, null);
       if tg_op <> 'INSERT' then
         select array_agg(distinct lot_id) into lots from (${lotsOf('old_rows')}) as one;
         perform forget_grades(lots, null);
       end if;
       return null;
     end $$`,
    ...triggersOf(table, runs, 'grades'),
  ];
}

function millTriggers(
  table: string,
  { events, columns }: { events: string[]; columns?: string[] },
): string[] {
  const runs = 'forget_all_grades';
  return events.map((event) =>
    event === 'update' && columns !== undefined
      ? `create trigger grades_update after update on ${table} for each row
           when ((${columns.map((name) => `old.${name}`).join(', ')}) is distinct from (${columns.map((name) => `new.${name}`).join(', ')}))
           execute function ${runs}()`
      : `create trigger grades_${event} after ${event} on ${table} for each statement execute function ${runs}()`,
  );
}

const emptied = (table: string): string =>
  `create trigger grades_emptied after truncate on ${table} for each statement execute function forget_all_grades()`;

const statements = [
  ...shared,
  ...grades,
  ...triggersOf('lot', 'lot_changes_grades', 'grades'),
  ...Object.entries(LOTS_OF).flatMap(([table, lotsOf]) => lotTriggers(table, lotsOf)),
  ...Object.entries(OF_THE_MILL).flatMap(([table, rests]) => millTriggers(table, rests)),
  ...['lot', ...Object.keys(LOTS_OF), ...Object.keys(OF_THE_MILL)].map(emptied),
];

/** Grades of lots and states of months, kept. */
export const keptFigures: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
