import { sql, type Kysely, type Migration } from 'kysely';

/**
 * The tables of a first season. Frozen: later changes are later migrations.
 * Weighings and money are `numeric`, so that what was typed is what is kept;
 * the checks here are the last gate behind the schemas and the calculations.
 */
const statements = [
  `create table mill (
     id integer primary key default 1 check (id = 1),
     name text not null check (length(name) between 1 and 120),
     address text not null default '' check (length(address) <= 500),
     currency text not null check (currency ~ '^[A-Z]{3}$'),
     mass_unit text not null check (mass_unit in ('kg', 'lb')),
     metal_unit text not null check (metal_unit in ('g', 'ozt')),
     grade_unit text not null check (grade_unit in ('g/t', 'oz/short ton')),
     temperature_unit text not null check (temperature_unit in ('°C', '°F')),
     paper text not null check (paper in ('A4', 'Letter')),
     import_date_order text not null check (import_date_order in ('iso', 'day-month-year', 'month-day-year')),
     decimal_comma boolean not null,
     weighing_step_g numeric not null default 1 check (weighing_step_g > 0),
     is_demo boolean not null,
     version integer not null default 1
   )`,
  `create table season (
     id uuid primary key,
     name text not null unique check (length(name) between 1 and 120),
     starts_on date not null,
     ends_on date not null,
     version integer not null default 1,
     check (ends_on >= starts_on)
   )`,
  `create table balance (
     id uuid primary key,
     name text not null unique check (length(name) between 1 and 120),
     readability_g numeric not null check (readability_g > 0),
     repeatability_g numeric not null check (repeatability_g >= 0),
     repeatability_from text not null default 'stated' check (repeatability_from in ('stated', 'checks')),
     version integer not null default 1
   )`,
  `create table balance_check (
     id uuid primary key,
     balance_id uuid not null references balance (id),
     kind text not null check (kind in ('repeat-weighing', 'check-weights')),
     checked_on date not null,
     remarks text not null default '' check (length(remarks) <= 2000),
     entered_at timestamptz not null default now()
   )`,
  `create index balance_check_balance on balance_check (balance_id)`,
  `create table balance_reading (
     check_id uuid not null references balance_check (id) on delete cascade,
     place integer not null check (place >= 0),
     nominal_mass_g numeric check (nominal_mass_g > 0),
     reading_g numeric not null check (reading_g >= 0),
     primary key (check_id, place)
   )`,
  `create table cupellation (
     id integer primary key default 1 check (id = 1),
     correction text not null default 'off' check (correction in ('off', 'stated', 'proofs')),
     gold_loss_frac numeric not null default 0.003 check (gold_loss_frac >= 0 and gold_loss_frac < 1),
     gold_loss_standard_uncertainty_frac numeric not null default 0.0012
       check (gold_loss_standard_uncertainty_frac >= 0 and gold_loss_standard_uncertainty_frac < 1),
     silver_loss_frac numeric not null default 0.02 check (silver_loss_frac >= 0 and silver_loss_frac < 1),
     silver_loss_standard_uncertainty_frac numeric not null default 0.0058
       check (silver_loss_standard_uncertainty_frac >= 0 and silver_loss_standard_uncertainty_frac < 1),
     version integer not null default 1
   )`,
  `insert into cupellation default values`,
  `create table cupellation_proof (
     id uuid primary key,
     metal text not null check (metal in ('Au', 'Ag')),
     proved_on date not null,
     taken_mg numeric not null check (taken_mg > 0),
     found_mg numeric not null check (found_mg >= 0),
     balance_id uuid not null references balance (id),
     remarks text not null default '' check (length(remarks) <= 2000)
   )`,
  `create table supply (
     id uuid primary key,
     name text not null unique check (length(name) between 1 and 120),
     kind text not null check (kind in ('reagent', 'lead', 'litharge', 'iron', 'fuel', 'crucible', 'cupel', 'labour', 'other')),
     unit text not null check (unit in ('kg', 'L', 'each', 'h')),
     crucible_volume_ml numeric check (crucible_volume_ml > 0),
     cupel_lead_capacity_g numeric check (cupel_lead_capacity_g > 0),
     version integer not null default 1,
     check (kind = 'crucible' or crucible_volume_ml is null),
     check (kind = 'cupel' or cupel_lead_capacity_g is null)
   )`,
  `create table supply_price (
     supply_id uuid not null references supply (id) on delete cascade,
     effective_on date not null,
     price numeric not null check (price >= 0),
     currency text not null check (currency ~ '^[A-Z]{3}$'),
     primary key (supply_id, effective_on)
   )`,
  `create table quotation (
     metal text not null check (metal ~ '^[A-Z][a-z]?$'),
     quoted_on date not null,
     price numeric not null check (price > 0),
     currency text not null check (currency ~ '^[A-Z]{3}$'),
     unit text not null check (unit in ('ozt', 't', 'lb', 'kg', 'g')),
     source text not null default '',
     primary key (metal, currency, unit, quoted_on)
   )`,
  `create table lot (
     id uuid primary key,
     season_id uuid not null references season (id),
     code text not null unique check (length(code) between 1 and 40),
     description text not null default '',
     made_on date not null,
     wet_mass_kg numeric not null check (wet_mass_kg > 0),
     moisture_frac numeric not null check (moisture_frac >= 0 and moisture_frac < 1),
     remarks text not null default '',
     version integer not null default 1,
     created_at timestamptz not null default now()
   )`,
  `create index lot_season on lot (season_id)`,
  `create table lot_mineral (
     lot_id uuid not null references lot (id) on delete cascade,
     mineral text not null,
     mass_frac numeric not null check (mass_frac > 0 and mass_frac <= 1),
     primary key (lot_id, mineral)
   )`,
  `create table lot_sampling (
     lot_id uuid primary key references lot (id) on delete cascade,
     model text not null check (model in ('coarse-gold', 'gy')),
     grain_size_mm numeric check (grain_size_mm > 0),
     grain_shape text check (grain_shape in ('nugget', 'flake')),
     top_size_mm numeric check (top_size_mm > 0),
     liberation_size_mm numeric check (liberation_size_mm > 0),
     shape_factor numeric check (shape_factor > 0 and shape_factor <= 1),
     liberation_exponent numeric check (liberation_exponent > 0 and liberation_exponent <= 3),
     gold_frac numeric not null check (gold_frac > 0 and gold_frac <= 1),
     grain_density_gpml numeric check (grain_density_gpml > 1 and grain_density_gpml <= 22.6),
     silver_with_gold boolean not null,
     check (case model
       when 'coarse-gold' then num_nulls(grain_size_mm, grain_shape) = 0
         and num_nonnulls(top_size_mm, liberation_size_mm, shape_factor, liberation_exponent) = 0
       else num_nulls(top_size_mm, liberation_size_mm, shape_factor, liberation_exponent) = 0
         and num_nonnulls(grain_size_mm, grain_shape) = 0
     end)
   )`,
  `create table lab_assay (
     id uuid primary key,
     lot_id uuid not null references lot (id),
     laboratory text not null check (length(laboratory) between 1 and 120),
     certificate text not null default '',
     assayed_on date not null,
     method text not null default '',
     element text not null check (element ~ '^[A-Z][a-z]?$'),
     unit text not null check (unit in ('g/t', 'percent')),
     value numeric not null check (value >= 0),
     standard_uncertainty numeric check (standard_uncertainty > 0),
     sample_mass_g numeric check (sample_mass_g > 0),
     screen_metallics jsonb
   )`,
  `create index lab_assay_lot on lab_assay (lot_id)`,
  `create table treatment (
     id uuid primary key,
     name text not null unique check (length(name) between 1 and 120),
     description text not null default '',
     roast boolean not null,
     charge_size_kg numeric not null check (charge_size_kg > 0),
     roast_hours_per_charge numeric not null check (roast_hours_per_charge >= 0),
     furnace_hours_per_charge numeric not null check (furnace_hours_per_charge >= 0),
     labour_hours_per_charge numeric not null check (labour_hours_per_charge >= 0),
     labour_supply_id uuid references supply (id),
     fuel_supply_id uuid references supply (id),
     fuel_per_charge numeric not null check (fuel_per_charge >= 0),
     crucible_supply_id uuid references supply (id),
     crucible_life_charges numeric not null check (crucible_life_charges > 0),
     cupel_supply_id uuid references supply (id),
     roast_pan_kg numeric check (roast_pan_kg > 0),
     lead_return_low_frac numeric not null check (lead_return_low_frac >= 0),
     lead_return_mode_frac numeric not null,
     lead_return_high_frac numeric not null check (lead_return_high_frac <= 1),
     gold_recovery_mean_frac numeric not null check (gold_recovery_mean_frac > 0 and gold_recovery_mean_frac < 1),
     gold_recovery_sd_frac numeric not null check (gold_recovery_sd_frac > 0),
     silver_recovery_mean_frac numeric not null check (silver_recovery_mean_frac > 0 and silver_recovery_mean_frac < 1),
     silver_recovery_sd_frac numeric not null check (silver_recovery_sd_frac > 0),
     dore_fineness_frac numeric not null check (dore_fineness_frac > 0 and dore_fineness_frac <= 1),
     waste_cost_per_kg numeric not null check (waste_cost_per_kg >= 0),
     days_until_bar integer not null check (days_until_bar >= 0),
     retired boolean not null default false,
     version integer not null default 1,
     check (lead_return_low_frac <= lead_return_mode_frac and lead_return_mode_frac <= lead_return_high_frac)
   )`,
  `create table treatment_recipe (
     treatment_id uuid not null references treatment (id) on delete cascade,
     supply_id uuid not null references supply (id),
     grams_per_hundred_g numeric not null check (grams_per_hundred_g > 0),
     primary key (treatment_id, supply_id)
   )`,
  `create table counterparty (
     id uuid primary key,
     name text not null unique check (length(name) between 1 and 120),
     address text not null default '',
     remarks text not null default '',
     version integer not null default 1
   )`,
  `create table terms (
     id uuid primary key,
     family_id uuid not null,
     version_number integer not null check (version_number >= 1),
     counterparty_id uuid not null references counterparty (id),
     name text not null check (length(name) between 1 and 160),
     material text not null check (material in ('concentrate', 'dore', 'by-product')),
     valid_from date not null,
     valid_to date,
     body jsonb not null,
     created_at timestamptz not null default now(),
     unique (family_id, version_number),
     check (valid_to is null or valid_to >= valid_from)
   )`,
  `create table trial (
     id uuid primary key,
     lot_id uuid not null references lot (id),
     treatment_id uuid references treatment (id),
     name text not null check (length(name) between 1 and 120),
     remarks text not null default '',
     version integer not null default 1,
     unique (lot_id, name)
   )`,
  `create table test_smelt (
     id uuid primary key,
     trial_id uuid not null references trial (id),
     sample text not null check (length(sample) between 1 and 60),
     smelted_on date not null,
     sample_mass_g numeric not null check (sample_mass_g > 0),
     roasted boolean not null,
     mass_before_roast_g numeric check (mass_before_roast_g > 0),
     mass_after_roast_g numeric check (mass_after_roast_g > 0),
     roast_hours numeric check (roast_hours >= 0),
     roast_temp_c numeric check (roast_temp_c between 0 and 1300),
     collector_lead_g numeric check (collector_lead_g >= 0),
     iron_in_g numeric check (iron_in_g >= 0),
     iron_out_g numeric check (iron_out_g >= 0),
     crucible_volume_ml numeric check (crucible_volume_ml > 0),
     button_g numeric check (button_g >= 0),
     matte_g numeric check (matte_g >= 0),
     slag_g numeric check (slag_g >= 0),
     bead_mg numeric check (bead_mg >= 0),
     parted_gold_mg numeric check (parted_gold_mg >= 0),
     inquart_silver_mg numeric check (inquart_silver_mg >= 0),
     matte_gold_gpt numeric check (matte_gold_gpt >= 0),
     matte_silver_gpt numeric check (matte_silver_gpt >= 0),
     slag_gold_gpt numeric check (slag_gold_gpt >= 0),
     slag_silver_gpt numeric check (slag_silver_gpt >= 0),
     blank_mg_per_lead_g numeric check (blank_mg_per_lead_g >= 0),
     blank_standard_uncertainty_mg_per_lead_g numeric check (blank_standard_uncertainty_mg_per_lead_g >= 0),
     sample_balance_id uuid not null references balance (id),
     bead_balance_id uuid not null references balance (id),
     set_aside_reason text check (length(set_aside_reason) > 0),
     remarks text not null default '',
     version integer not null default 1,
     unique (trial_id, sample),
     check (roasted or (mass_before_roast_g is null and mass_after_roast_g is null and roast_hours is null and roast_temp_c is null)),
     check (parted_gold_mg is null or bead_mg is null or parted_gold_mg <= bead_mg),
     check (bead_mg is null or button_g is null or bead_mg <= button_g * 1000)
   )`,
  `create table test_smelt_reagent (
     test_smelt_id uuid not null references test_smelt (id) on delete cascade,
     supply_id uuid not null references supply (id),
     mass_g numeric not null check (mass_g > 0),
     primary key (test_smelt_id, supply_id)
   )`,
  `create table decision (
     id uuid primary key,
     lot_id uuid not null references lot (id),
     decided_on date not null,
     dry_mass_kg numeric not null check (dry_mass_kg > 0),
     treatment_id uuid references treatment (id),
     terms_id uuid references terms (id),
     reason text not null check (length(reason) between 1 and 2000),
     frozen jsonb not null,
     created_at timestamptz not null default now(),
     check (terms_id is not null or treatment_id is null)
   )`,
  `create index decision_lot on decision (lot_id)`,
  `create function keep_decision() returns trigger language plpgsql as $$
   begin
     raise exception 'a decision stays as it was recorded' using errcode = 'check_violation';
   end $$`,
  `create trigger decision_recorded before update on decision
     for each row execute function keep_decision()`,
  `create table batch (
     id uuid primary key,
     code text not null unique check (length(code) between 1 and 40),
     lot_id uuid not null references lot (id),
     decision_id uuid references decision (id),
     treatment_id uuid references treatment (id),
     terms_id uuid not null references terms (id),
     status text not null check (status in ('planned', 'running', 'done', 'cancelled')),
     planned_on date not null,
     dry_mass_kg numeric not null check (dry_mass_kg > 0),
     forecast jsonb not null,
     started_on date,
     finished_on date,
     furnace_hours numeric check (furnace_hours >= 0),
     labour_hours numeric check (labour_hours >= 0),
     lead_in_kg numeric check (lead_in_kg >= 0),
     lead_back_kg numeric check (lead_back_kg >= 0),
     remarks text not null default '',
     version integer not null default 1,
     created_at timestamptz not null default now(),
     check (finished_on is null or started_on is null or finished_on >= started_on)
   )`,
  `create index batch_lot on batch (lot_id)`,
  `create index batch_decision on batch (decision_id)`,
  `create table batch_consumption (
     batch_id uuid not null references batch (id) on delete cascade,
     supply_id uuid not null references supply (id),
     quantity numeric not null check (quantity > 0),
     primary key (batch_id, supply_id)
   )`,
  `create table product (
     id uuid primary key,
     batch_id uuid not null references batch (id),
     code text not null unique check (length(code) between 1 and 40),
     kind text not null check (kind in ('bar', 'parcel', 'matte', 'slag', 'lead')),
     made_on date not null,
     mass_kg numeric not null check (mass_kg > 0),
     gold_fineness_frac numeric check (gold_fineness_frac between 0 and 1),
     silver_fineness_frac numeric check (silver_fineness_frac between 0 and 1),
     remarks text not null default '',
     version integer not null default 1
   )`,
  `create index product_batch on product (batch_id)`,
  `create table statement (
     id uuid primary key,
     number text unique,
     product_id uuid not null references product (id),
     terms_id uuid not null references terms (id),
     stage text not null check (stage in ('provisional', 'second-provisional', 'final', 'adjustment')),
     status text not null check (status in ('draft', 'issued')),
     issued_on date,
     supersedes_id uuid references statement (id),
     input jsonb not null,
     settlement jsonb not null,
     total numeric not null,
     currency text not null check (currency ~ '^[A-Z]{3}$'),
     version integer not null default 1,
     created_at timestamptz not null default now(),
     check ((status = 'issued') = (number is not null)),
     check ((status = 'issued') = (issued_on is not null))
   )`,
  `create index statement_product on statement (product_id)`,
  // One statement can be superseded once only: a chain, never a tree.
  `create unique index statement_supersedes on statement (supersedes_id) where status = 'issued'`,
  `create function keep_issued_statement() returns trigger language plpgsql as $$
   begin
     if old.status = 'issued' then
       raise exception 'statement % is issued and can only be followed by another', old.number using errcode = 'check_violation';
     end if;
     return case tg_op when 'DELETE' then old else new end;
   end $$`,
  `create trigger statement_issued before update or delete on statement
     for each row execute function keep_issued_statement()`,
  `create table buyer_statement (
     id uuid primary key,
     statement_id uuid not null references statement (id),
     number text not null check (length(number) between 1 and 60),
     dated_on date not null,
     total numeric not null,
     remarks text not null default '' check (length(remarks) <= 2000),
     version integer not null default 1,
     entered_at timestamptz not null default now(),
     unique (statement_id, number)
   )`,
  `create table buyer_statement_line (
     buyer_statement_id uuid not null references buyer_statement (id) on delete cascade,
     place integer not null check (place >= 0),
     label text not null check (length(label) between 1 and 200),
     line_id text check (length(line_id) between 1 and 200),
     quantity numeric,
     amount numeric,
     primary key (buyer_statement_id, place),
     check (quantity is not null or amount is not null)
   )`,
  `create table imported_file (
     id uuid primary key,
     kind text not null check (kind in ('lots', 'test-smelts', 'quotations')),
     file_name text not null,
     sha256 text not null,
     rows_added integer not null check (rows_added >= 0),
     rows_unchanged integer not null check (rows_unchanged >= 0),
     imported_at timestamptz not null default now()
   )`,
];

export const firstSeason: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
