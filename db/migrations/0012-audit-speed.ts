import { sql, type Kysely, type Migration } from 'kysely';

/**
 * The audit says and proves what it did before, in less time. All entries of a transaction are chained at once when it
 * commits: chained one by one, each had to find the end of the chain behind all versions of it that the transaction had
 * made, which took ever longer the more it wrote. Entries of a statement are written as a set, and a row without
 * secrets and long documents is kept as it is instead of value by value. Indexes answer "who changed what" from the
 * newest backwards without reading all that was ever changed.
 */
const statements = [
  // What earlier migrations of the same run wrote is chained first: an index is not made while entries wait.
  `set constraints all immediate`,
  `set constraints all deferred`,
  `create index audit_entry_transaction on audit_entry (transaction_id, sequence)`,
  `create index audit_entry_actor on audit_entry (actor, sequence)`,

  `create function audit_keeps(name text, value jsonb) returns boolean language sql immutable as $$
     select name not like '%\\_hash' and name not like '%secret%' and length(value::text) <= 16000
   $$`,
  `create or replace function audit_row(record jsonb) returns jsonb language plpgsql stable as $$
   declare
     written text := record::text;
   begin
     if length(written) <= 16000 and written not like '%\\_hash%' and written not like '%secret%' then
       return record;
     end if;
     return (select jsonb_object_agg(key, case when audit_keeps(key, value) then value else audit_value(key, value) end)
       from jsonb_each(record));
   end $$`,
  `create or replace function audit_key(record jsonb, key_columns text[]) returns jsonb language sql stable as $$
     select jsonb_agg(jsonb_build_array(name,
         case when audit_keeps(name, record -> name) then record -> name else audit_value(name, record -> name) end)
       order by place) from unnest(key_columns) with ordinality as one (name, place)
   $$`,

  // Arguments: the column that names the record's owner, or ''; 'bulk' or ''; the columns of the primary key.
  `create or replace function audit_statement() returns trigger language plpgsql as $$
   declare
     owner_column text := tg_argv[0];
     is_bulk boolean := tg_argv[1] = 'bulk';
     key_columns text[] := tg_argv[2:];
     old_count bigint := 0;
     new_count bigint := 0;
     old_digest jsonb;
     new_digest jsonb;
     acting jsonb := nullif(current_setting('poursheet.actor', true), '')::jsonb;
     acting_name text := coalesce(acting ->> 'name', 'program');
     acting_account text := acting ->> 'accountId';
     acting_request text := acting ->> 'requestId';
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
       insert into audit_entry
           (actor, account_id, request_id, table_name, action, record_id, owner_id, row_key, row_count, before, after)
         select acting_name, acting_account, acting_request, tg_table_name, 'insert', audit_record(key),
           record ->> owner_column, key, 1, null, audit_row(record)
         from (select to_jsonb(one) as record from new_rows one) as rows
         cross join lateral audit_key(record, key_columns) as key;
     elsif tg_op = 'DELETE' then
       insert into audit_entry
           (actor, account_id, request_id, table_name, action, record_id, owner_id, row_key, row_count, before, after)
         select acting_name, acting_account, acting_request, tg_table_name, 'delete', audit_record(key),
           record ->> owner_column, key, 1, audit_row(record), null
         from (select to_jsonb(one) as record from old_rows one) as rows
         cross join lateral audit_key(record, key_columns) as key;
     else
       insert into audit_entry
           (actor, account_id, request_id, table_name, action, record_id, owner_id, row_key, row_count, before, after)
         select acting_name, acting_account, acting_request, tg_table_name, 'update', audit_record(key),
           coalesce(later.record, earlier.record) ->> owner_column, key, 1, changed.before, changed.after
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

  /*
   * Runs once for each entry when the transaction commits; the first finds all others of its transaction after it.
   * Each entry's text and fingerprint are what they were before. A plan made while the table was small would read all
   * of it later, in a session that goes on for months.
   */
  `create or replace function audit_chain() returns trigger language plpgsql set enable_seqscan = off as $$
   declare
     head audit_head;
     entry audit_entry;
   begin
     select * into entry from audit_entry where id = new.id;
     if entry.sequence is not null then
       return null;
     end if;
     select * into head from audit_head where id = 1 for update;
     for entry in
       select * from audit_entry
         where id >= new.id and transaction_id = new.transaction_id order by id
     loop
       entry.sequence := head.sequence + 1;
       entry.previous_hash := head.hash;
       entry.hash := encode(sha256(convert_to(head.hash || E'\\n' || audit_text(entry), 'UTF8')), 'hex');
       update audit_entry set sequence = entry.sequence, previous_hash = entry.previous_hash, hash = entry.hash
         where id = entry.id;
       head.sequence := entry.sequence;
       head.hash := entry.hash;
     end loop;
     update audit_head set sequence = head.sequence, hash = head.hash where id = 1;
     return null;
   end $$`,
  `create or replace function keep_audit_head() returns trigger language plpgsql as $$
   begin
     if tg_op = 'UPDATE' then
       if new.sequence > old.sequence then
         return new;
       end if;
     end if;
     raise exception 'the head of the audit only goes forward' using errcode = 'check_violation';
   end $$`,
];

export const auditSpeed: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
