import { sql, type Kysely, type Migration } from 'kysely';

const statements = [
  // How a day's feed is counted, and turned into tonnes.
  `alter table mill
     add column feed_unit text not null default 't' check (feed_unit in ('t', 'short ton', 'm3', 'yd3', 'loader')),
     add column feed_tonnes_per_unit numeric not null default 1 check (feed_tonnes_per_unit > 0),
     add column feed_moisture_frac numeric not null default 0 check (feed_moisture_frac >= 0 and feed_moisture_frac < 1),
     add column lot_scale_uncertainty_frac numeric not null default 0.005 check (lot_scale_uncertainty_frac >= 0 and lot_scale_uncertainty_frac < 1),
     add column bar_scale_uncertainty_g numeric not null default 0.05 check (bar_scale_uncertainty_g >= 0)`,

  `create table production_day (
     id uuid primary key,
     season_id uuid not null references season (id),
     day date not null unique,
     feed_quantity numeric check (feed_quantity >= 0),
     feed_unit text not null check (feed_unit in ('t', 'short ton', 'm3', 'yd3', 'loader')),
     feed_tonnes_per_unit numeric not null check (feed_tonnes_per_unit > 0),
     feed_moisture_frac numeric not null check (feed_moisture_frac >= 0 and feed_moisture_frac < 1),
     feed_gold_gpt numeric check (feed_gold_gpt >= 0),
     feed_silver_gpt numeric check (feed_silver_gpt >= 0),
     tailings_gold_gpt numeric check (tailings_gold_gpt >= 0),
     tailings_silver_gpt numeric check (tailings_silver_gpt >= 0),
     concentrate_wet_kg numeric check (concentrate_wet_kg >= 0),
     concentrate_moisture_frac numeric check (concentrate_moisture_frac >= 0 and concentrate_moisture_frac < 1),
     hours_run numeric check (hours_run between 0 and 24),
     remarks text not null default '' check (length(remarks) <= 2000),
     version integer not null default 1,
     entered_at timestamptz not null default now(),
     check (concentrate_wet_kg is null or concentrate_moisture_frac is not null)
   )`,
  `create index production_day_season on production_day (season_id, day)`,
  `create table production_day_supply (
     production_day_id uuid not null references production_day (id) on delete cascade,
     supply_id uuid not null references supply (id),
     quantity numeric not null check (quantity > 0),
     primary key (production_day_id, supply_id)
   )`,
  `create table production_day_labour (
     production_day_id uuid not null references production_day (id) on delete cascade,
     place integer not null check (place >= 0),
     person text not null check (length(person) between 1 and 120),
     supply_id uuid not null references supply (id),
     hours numeric not null check (hours > 0 and hours <= 24),
     primary key (production_day_id, place)
   )`,

  `alter table imported_file drop constraint imported_file_kind_check`,
  `alter table imported_file
     add constraint imported_file_kind_check check (kind in ('lots', 'test-smelts', 'quotations', 'days'))`,

  // What a lot was made from: days of concentrate, other lots (split, blended), products worked up again.
  `create table lot_part (
     id uuid primary key,
     lot_id uuid not null references lot (id) on delete cascade,
     production_day_id uuid references production_day (id),
     from_lot_id uuid references lot (id),
     product_id uuid references product (id),
     dry_mass_kg numeric not null check (dry_mass_kg > 0),
     taken_on date not null,
     check (num_nonnulls(production_day_id, from_lot_id, product_id) = 1),
     check (from_lot_id is null or from_lot_id <> lot_id)
   )`,
  `create index lot_part_lot on lot_part (lot_id)`,
  `create index lot_part_from_lot on lot_part (from_lot_id)`,
  `create index lot_part_day on lot_part (production_day_id)`,
  `create index lot_part_product on lot_part (product_id)`,
  `create index lot_part_taken on lot_part (taken_on)`,
  // Bought or taken in from outside: what it cost, when it is not of the mill's own making.
  `create table lot_purchase (
     lot_id uuid primary key references lot (id) on delete cascade,
     amount numeric not null check (amount >= 0),
     currency text not null check (currency ~ '^[A-Z]{3}$'),
     bought_on date not null,
     supplier text not null default '' check (length(supplier) <= 120),
     document text not null default '' check (length(document) <= 120),
     paid_on date
   )`,

  `alter table product drop constraint product_kind_check`,
  `alter table product
     add constraint product_kind_check check (kind in ('bar', 'parcel', 'bead', 'button', 'matte', 'slag', 'lead')),
     add column mass_standard_uncertainty_kg numeric check (mass_standard_uncertainty_kg >= 0),
     add column gold_standard_uncertainty_frac numeric check (gold_standard_uncertainty_frac >= 0),
     add column silver_standard_uncertainty_frac numeric check (silver_standard_uncertainty_frac >= 0)`,
  `create index product_made on product (made_on)`,

  `create table write_off (
     id uuid primary key,
     lot_id uuid references lot (id),
     product_id uuid references product (id),
     written_off_on date not null,
     /** As the lot or product is kept: kg dry for a lot, kg as weighed for a product. */
     mass_kg numeric not null check (mass_kg > 0),
     reason text not null check (length(reason) between 1 and 2000),
     entered_at timestamptz not null default now(),
     check (num_nonnulls(lot_id, product_id) = 1)
   )`,
  `create index write_off_lot on write_off (lot_id)`,
  `create index write_off_product on write_off (product_id)`,
  `create index write_off_on on write_off (written_off_on)`,

  `create table shipment (
     id uuid primary key,
     code text not null unique check (length(code) between 1 and 40),
     counterparty_id uuid not null references counterparty (id),
     shipped_on date not null,
     arrived_on date,
     carrier text not null default '' check (length(carrier) <= 120),
     seals text not null default '' check (length(seals) <= 500),
     insured_for numeric check (insured_for >= 0),
     insured_currency text check (insured_currency ~ '^[A-Z]{3}$'),
     insurer text not null default '' check (length(insurer) <= 120),
     remarks text not null default '' check (length(remarks) <= 2000),
     version integer not null default 1,
     check (arrived_on is null or arrived_on >= shipped_on),
     check ((insured_for is null) = (insured_currency is null))
   )`,
  `create index shipment_shipped on shipment (shipped_on)`,
  `create table shipment_product (
     shipment_id uuid not null references shipment (id) on delete cascade,
     product_id uuid not null unique references product (id),
     primary key (shipment_id, product_id)
   )`,

  `create table supply_purchase (
     id uuid primary key,
     supply_id uuid not null references supply (id),
     bought_on date not null,
     quantity numeric not null check (quantity > 0),
     /** What it cost in all, without tax that is paid back, freight included. */
     amount numeric not null check (amount >= 0),
     currency text not null check (currency ~ '^[A-Z]{3}$'),
     supplier text not null default '' check (length(supplier) <= 120),
     document text not null default '' check (length(document) <= 120),
     paid_on date,
     remarks text not null default '' check (length(remarks) <= 2000),
     version integer not null default 1,
     entered_at timestamptz not null default now()
   )`,
  `create index supply_purchase_supply on supply_purchase (supply_id, bought_on)`,
  `create index supply_purchase_bought on supply_purchase (bought_on)`,
  `create table supply_count (
     id uuid primary key,
     supply_id uuid not null references supply (id),
     counted_on date not null,
     /** What was there at the end of the day. */
     quantity numeric not null check (quantity >= 0),
     /** Only for a first count, before any purchase is on the books. */
     unit_cost numeric check (unit_cost >= 0),
     remarks text not null default '' check (length(remarks) <= 2000),
     version integer not null default 1,
     entered_at timestamptz not null default now(),
     unique (supply_id, counted_on)
   )`,
  `create index supply_count_counted on supply_count (counted_on)`,
  `create index batch_finished on batch (finished_on)`,
  `create index batch_started on batch (started_on)`,
  `create index batch_consumption_supply on batch_consumption (supply_id)`,

  `create table expense (
     id uuid primary key,
     spent_on date not null,
     kind text not null check (kind in ('rent', 'repair', 'permit', 'insurance', 'power', 'transport', 'assays', 'fees',
       'wages', 'royalty-paid', 'tax-paid', 'other')),
     amount numeric not null,
     currency text not null check (currency ~ '^[A-Z]{3}$'),
     payee text not null default '' check (length(payee) <= 120),
     document text not null default '' check (length(document) <= 120),
     paid_on date,
     remarks text not null default '' check (length(remarks) <= 2000),
     version integer not null default 1,
     entered_at timestamptz not null default now()
   )`,
  `create index expense_spent on expense (spent_on)`,

  `create table exchange_rate (
     currency text not null check (currency ~ '^[A-Z]{3}$'),
     rated_on date not null,
     /** Of the mill's currency for one of this. */
     rate numeric not null check (rate > 0),
     source text not null default '' check (length(source) <= 120),
     primary key (currency, rated_on)
   )`,

  `create table account_code (
     kind text primary key check (length(kind) between 1 and 60),
     code text not null check (length(code) between 1 and 40),
     name text not null check (length(name) between 1 and 120),
     version integer not null default 1
   )`,

  `create table budget (
     season_id uuid primary key references season (id) on delete cascade,
     furnace_hours_per_day numeric check (furnace_hours_per_day between 0 and 24),
     remarks text not null default '' check (length(remarks) <= 2000),
     version integer not null default 1
   )`,
  `create table budget_month (
     season_id uuid not null references budget (season_id) on delete cascade,
     month date not null check (extract(day from month) = 1),
     feed_dry_t numeric not null default 0 check (feed_dry_t >= 0),
     concentrate_dry_kg numeric not null default 0 check (concentrate_dry_kg >= 0),
     treated_dry_kg numeric not null default 0 check (treated_dry_kg >= 0),
     fixed_costs numeric not null default 0 check (fixed_costs >= 0),
     primary key (season_id, month)
   )`,

  // A closed month keeps the entries that its report was made of: a later change shows in the month it is made.
  `create table closed_month (
     month date primary key check (extract(day from month) = 1),
     closed_at timestamptz not null default now(),
     closed_by text not null check (length(closed_by) between 1 and 120),
     entries jsonb not null,
     report jsonb not null
   )`,
  `create function keep_closed_month() returns trigger language plpgsql as $$
   begin
     raise exception 'a closed month stays as it was closed' using errcode = 'check_violation';
   end $$`,
  `create trigger month_closed before update or delete on closed_month
     for each row execute function keep_closed_month()`,
];

export const production: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
