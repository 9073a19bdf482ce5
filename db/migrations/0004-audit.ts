import { sql, type Kysely, type Migration } from 'kysely';

/**
 * What happened to every record, written by the database itself so that no write can miss it, and each entry
 * chained to the one before by SHA-256. An entry is written with its statement and gets its place in the chain when
 * the transaction commits: the head of the chain is locked last, so that writers neither wait for each other's work
 * nor lock each other out.
 */
const statements = [
  `create table audit_head (
     id integer primary key default 1 check (id = 1),
     sequence bigint not null,
     hash text not null
   )`,
  `insert into audit_head (sequence, hash) values (0, repeat('0', 64))`,
  `create table audit_entry (
     id bigint generated always as identity primary key,
     sequence bigint unique,
     at timestamptz not null default clock_timestamp(),
     actor text not null,
     account_id text,
     request_id text,
     transaction_id text not null default pg_current_xact_id()::text,
     table_name text not null,
     action text not null check (action in ('found', 'insert', 'update', 'delete', 'truncate')),
     record_id text,
     owner_id text,
     row_key jsonb,
     row_count bigint not null check (row_count >= 0),
     before jsonb,
     after jsonb,
     previous_hash text,
     hash text,
     check (num_nonnulls(sequence, previous_hash, hash) in (0, 3))
   )`,
  `create index audit_entry_record on audit_entry (record_id, sequence)`,
  `create index audit_entry_owner on audit_entry (owner_id, sequence)`,
  `create index audit_entry_at on audit_entry (at)`,

  // Secrets are never kept, and of a long document only its fingerprint.
  `create function audit_value(name text, value jsonb) returns jsonb language sql immutable as $$
     select case
       when name like '%\\_hash' or name like '%secret%' then '"not kept"'::jsonb
       when length(value::text) > 16000 then jsonb_build_object(
         'sha256', encode(sha256(convert_to(value::text, 'UTF8')), 'hex'), 'characters', length(value::text))
       else value
     end
   $$`,
  `create function audit_row(record jsonb) returns jsonb language sql immutable as $$
     select jsonb_object_agg(key, audit_value(key, value)) from jsonb_each(record)
   $$`,
  `create function audit_key(record jsonb, key_columns text[]) returns jsonb language sql immutable as $$
     select jsonb_agg(jsonb_build_array(name, audit_value(name, record -> name)) order by place) from unnest(key_columns) with ordinality as one (name, place)
   $$`,
  // A part of a record, such as a mineral of a lot, goes under the record: its key begins with the record's id.
  `create function audit_record(key jsonb) returns text language sql immutable as $$
     select case
       when key #>> '{0,1}' ~ '^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$' then key #>> '{0,1}'
       else (select string_agg(part ->> 1, ' ' order by place) from jsonb_array_elements(key) with ordinality as one (part, place))
     end
   $$`,
  `create function audit_write(
     watched text, done text, key jsonb, owner text, rows_touched bigint, row_before jsonb, row_after jsonb
   ) returns void language plpgsql as $$
   declare
     acting jsonb := nullif(current_setting('poursheet.actor', true), '')::jsonb;
   begin
     insert into audit_entry
       (actor, account_id, request_id, table_name, action, record_id, owner_id, row_key, row_count, before, after)
     values (coalesce(acting ->> 'name', 'program'), acting ->> 'accountId', acting ->> 'requestId',
       watched, done, audit_record(key), owner, key, rows_touched, row_before, row_after);
   end $$`,

  // Arguments: the column that names the record's owner, or ''; 'bulk' or ''; the columns of the primary key.
  `create function audit_statement() returns trigger language plpgsql as $$
   declare
     owner_column text := tg_argv[0];
     is_bulk boolean := tg_argv[1] = 'bulk';
     key_columns text[] := tg_argv[2:];
     old_count bigint := 0;
     new_count bigint := 0;
     old_digest jsonb;
     new_digest jsonb;
   begin
     if is_bulk then
       if tg_op <> 'INSERT' then
         select count(*), audit_digest(string_agg(one::text, E'\\n' order by one::text collate "C"))
           into old_count, old_digest from old_rows one;
       end if;
       if tg_op <> 'DELETE' then
         select count(*), audit_digest(string_agg(one::text, E'\\n' order by one::text collate "C"))
           into new_count, new_digest from new_rows one;
       end if;
       if greatest(old_count, new_count) > 1 then
         perform audit_write(tg_table_name, lower(tg_op), null, null, greatest(old_count, new_count), old_digest, new_digest);
         return null;
       end if;
     end if;
     if tg_op = 'INSERT' then
       perform audit_write(tg_table_name, 'insert', audit_key(record, key_columns), record ->> owner_column, 1,
           null, audit_row(record))
         from (select to_jsonb(one) as record from new_rows one) as rows;
     elsif tg_op = 'DELETE' then
       perform audit_write(tg_table_name, 'delete', audit_key(record, key_columns), record ->> owner_column, 1,
           audit_row(record), null)
         from (select to_jsonb(one) as record from old_rows one) as rows;
     else
       perform audit_write(tg_table_name, 'update', key, coalesce(later.record, earlier.record) ->> owner_column, 1,
           changed.before, changed.after)
         from (select audit_key(to_jsonb(one), key_columns) as key, to_jsonb(one) as record from old_rows one) as earlier
         full join (select audit_key(to_jsonb(one), key_columns) as key, to_jsonb(one) as record from new_rows one) as later
           using (key)
         cross join lateral (
           select jsonb_object_agg(name, audit_value(name, earlier.record -> name)) as before,
             jsonb_object_agg(name, audit_value(name, later.record -> name)) as after
           from jsonb_object_keys(coalesce(later.record, earlier.record)) as name
           where earlier.record -> name is distinct from later.record -> name
         ) as changed
         where changed.after is not null;
     end if;
     return null;
   end $$`,
  `create function audit_digest(rows text) returns jsonb language sql immutable as $$
     select jsonb_build_object('sha256', encode(sha256(convert_to(rows, 'UTF8')), 'hex'))
   $$`,
  `create function audit_truncate() returns trigger language plpgsql as $$
   declare
     emptied bigint;
   begin
     execute format('select count(*) from %I', tg_table_name) into emptied;
     perform audit_write(tg_table_name, 'truncate', null, null, emptied, null, null);
     return null;
   end $$`,

  // Watches a table. Rows that are there already are taken up as found.
  `create function audit_table(watched text, owner_column text default '', in_bulk boolean default false)
   returns void language plpgsql as $$
   declare
     key_columns text[];
     arguments text;
   begin
     select array_agg(attname::text order by place) into key_columns
       from pg_index cross join unnest(indkey) with ordinality as part (attnum, place)
       join pg_attribute on attrelid = indrelid and pg_attribute.attnum = part.attnum
       where indrelid = watched::regclass and indisprimary;
     if key_columns is null then
       raise exception 'table % has no primary key to name its rows by', watched;
     end if;
     select string_agg(quote_literal(argument), ', ' order by place) into arguments
       from unnest(array[owner_column, case when in_bulk then 'bulk' else '' end] || key_columns)
         with ordinality as one (argument, place);
     execute format('create trigger audit_insert after insert on %I referencing new table as new_rows
       for each statement execute function audit_statement(%s)', watched, arguments);
     execute format('create trigger audit_update after update on %I referencing old table as old_rows new table as new_rows
       for each statement execute function audit_statement(%s)', watched, arguments);
     execute format('create trigger audit_delete after delete on %I referencing old table as old_rows
       for each statement execute function audit_statement(%s)', watched, arguments);
     execute format('create trigger audit_truncate before truncate on %I
       for each statement execute function audit_truncate()', watched);
     if in_bulk then
       execute format($found$select audit_write(%L, 'found', null, null, count(*), null,
           audit_digest(string_agg(one::text, E'\\n' order by one::text collate "C")))
         from %I one having count(*) > 0$found$, watched, watched);
     else
       execute format($found$select audit_write(%L, 'found', audit_key(record, %L), record ->> %L, 1, null, audit_row(record))
         from (select to_jsonb(one) as record from %I one) as rows$found$, watched, key_columns, owner_column, watched);
     end if;
   end $$`,

  // The one text that an entry's fingerprint is taken of: jsonb is always written alike.
  `create function audit_text(entry audit_entry) returns text language sql stable as $$
     select jsonb_build_array(entry.sequence, to_char(entry.at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'),
       entry.actor, entry.account_id, entry.request_id, entry.transaction_id, entry.table_name, entry.action,
       entry.record_id, entry.owner_id, entry.row_key, entry.row_count, entry.before, entry.after)::text
   $$`,
  `create function audit_chain() returns trigger language plpgsql as $$
   declare
     head audit_head;
     entry audit_entry;
   begin
     select * into head from audit_head for update;
     select * into entry from audit_entry where id = new.id;
     entry.sequence := head.sequence + 1;
     entry.hash := encode(sha256(convert_to(head.hash || E'\\n' || audit_text(entry), 'UTF8')), 'hex');
     update audit_entry set sequence = entry.sequence, previous_hash = head.hash, hash = entry.hash where id = new.id;
     update audit_head set sequence = entry.sequence, hash = entry.hash;
     return null;
   end $$`,
  `create constraint trigger audit_chain after insert on audit_entry deferrable initially deferred
     for each row execute function audit_chain()`,

  `create function keep_audit_entry() returns trigger language plpgsql as $$
   begin
     if tg_op = 'UPDATE' then
       if old.sequence is null
         and to_jsonb(new) - array['sequence', 'previous_hash', 'hash']
           = to_jsonb(old) - array['sequence', 'previous_hash', 'hash'] then
         return new;
       end if;
     end if;
     raise exception 'what the audit says stays as it was written' using errcode = 'check_violation';
   end $$`,
  `create trigger audit_entry_kept before update or delete on audit_entry
     for each row execute function keep_audit_entry()`,
  `create trigger audit_entry_not_emptied before truncate on audit_entry
     for each statement execute function keep_audit_entry()`,
  `create function keep_audit_head() returns trigger language plpgsql as $$
   begin
     if tg_op = 'UPDATE' then
       if new.sequence = old.sequence + 1 then
         return new;
       end if;
     end if;
     raise exception 'the head of the audit only goes forward' using errcode = 'check_violation';
   end $$`,
  `create trigger audit_head_kept before update or delete on audit_head
     for each row execute function keep_audit_head()`,
  `create trigger audit_head_not_emptied before truncate on audit_head
     for each statement execute function keep_audit_head()`,

  // The first answer to a request with an idempotency key, for whoever sends it again.
  `create table idempotency (
     account text not null,
     key text not null check (length(key) between 1 and 255),
     request_sha256 text not null,
     status integer not null,
     content_type text,
     body text not null,
     created_at timestamptz not null default now(),
     primary key (account, key)
   )`,
  `create index idempotency_created on idempotency (created_at)`,
];

/** Not watched: the audit itself, the migrations, and what holds secrets or passes by. */
const LEFT_OUT = [
  'kysely_migration',
  'kysely_migration_lock',
  'audit_entry',
  'audit_head',
  'idempotency',
  'account_session',
  'account_setup',
  'sign_in_limit',
];

/** The column that names the record under which a row of the table is looked for. */
const OWNERS: Record<string, string> = {
  balance_check: 'balance_id',
  lab_assay: 'lot_id',
  trial: 'lot_id',
  test_smelt: 'trial_id',
  decision: 'lot_id',
  batch: 'lot_id',
  product: 'batch_id',
  statement: 'product_id',
  buyer_statement: 'statement_id',
};

/** Written thousands of rows at once. */
const BULK = ['quotation'];

export const audit: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
    const { rows } = await sql<{ name: string }>`select tablename as name from pg_tables
      where schemaname = current_schema() order by tablename`.execute(db);
    for (const { name } of rows)
      if (!LEFT_OUT.includes(name))
        await sql`select audit_table(${name}, ${OWNERS[name] ?? ''}, ${BULK.includes(name)})`.execute(db);
    // A later migration of the same run may change the audit's tables: nothing may wait for the commit.
    await sql`set constraints all immediate`.execute(db);
    await sql`set constraints all deferred`.execute(db);
  },
};
