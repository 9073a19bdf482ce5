import { sql, type Kysely, type Migration } from 'kysely';

/**
 * Who may come in: accounts with their sessions, set-up links and second factors, what slows guessing down,
 * links under which one file can be fetched, and whose lot it is. Of everything that opens a door only a hash
 * is kept, but for the secret of the codes, which both sides must know.
 */
const statements = [
  `create table account (
     id uuid primary key,
     name text not null check (length(name) between 1 and 60),
     name_key text not null unique,
     role text not null check (role in ('owner', 'operator', 'accountant', 'customer')),
     counterparty_id uuid references counterparty (id),
     password_hash text,
     password_set_at timestamptz,
     code_secret text,
     code_secret_offered text,
     code_last_step integer,
     disabled boolean not null default false,
     version integer not null default 1,
     created_at timestamptz not null,
     check ((role = 'customer') = (counterparty_id is not null)),
     check ((password_hash is null) = (password_set_at is null)),
     check (code_secret is null or password_hash is not null)
   )`,
  `create table account_recovery_code (
     account_id uuid not null references account (id) on delete cascade,
     code_hash text not null,
     primary key (account_id, code_hash)
   )`,
  `create table account_session (
     id uuid primary key,
     account_id uuid not null references account (id) on delete cascade,
     token_hash text not null unique,
     started_at timestamptz not null,
     last_seen_at timestamptz not null,
     expires_at timestamptz not null,
     device text not null check (length(device) <= 300),
     address text not null check (length(address) <= 100)
   )`,
  `create index account_session_account on account_session (account_id)`,
  `create table account_setup (
     account_id uuid primary key references account (id) on delete cascade,
     token_hash text not null unique,
     expires_at timestamptz not null
   )`,
  `create table sign_in_limit (
     key text primary key,
     failures integer not null,
     last_at timestamptz not null,
     blocked_until timestamptz
   )`,
  `create table download_link (
     id uuid primary key,
     token_hash text not null unique,
     what text not null check (length(what) between 1 and 60),
     season_id uuid not null references season (id),
     remarks text not null default '' check (length(remarks) <= 200),
     made_by text not null,
     made_at timestamptz not null,
     expires_at timestamptz not null,
     revoked_at timestamptz,
     last_used_at timestamptz,
     uses integer not null default 0
   )`,
  `alter table lot add column owner_counterparty_id uuid references counterparty (id)`,
  `create index lot_owner on lot (owner_counterparty_id)`,
];

export const accounts: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
