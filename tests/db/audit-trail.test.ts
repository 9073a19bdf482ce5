import { createHash } from 'node:crypto';
import { sql, type Kysely } from 'kysely';
import { beforeAll, expect, it } from 'vitest';
import { notWatched } from '../../db/audit/not-watched.ts';
import { verifyAudit } from '../../db/audit/verify.ts';
import { actingAs } from '../../db/audit/acting.ts';
import { insertSeason, updateSeason } from '../../db/queries/mill.ts';
import type { OpenDatabase } from '../../db/open.ts';
import type { Database } from '../../db/schema.ts';
import { describeOnEveryEngine } from '../support/engines.ts';

const season = (name: string) => ({ name, startsOn: '2031-01-01', endsOn: '2031-12-31' });

const entriesOf = (db: Kysely<Database>, table: string) =>
  db.selectFrom('auditEntry').selectAll().where('tableName', '=', table).orderBy('sequence').execute();

const counterparty = (db: Kysely<Database>, name: string) =>
  db.insertInto('counterparty').values({ id: crypto.randomUUID(), name }).execute();

describeOnEveryEngine('the audit', (open) => {
  let opened: OpenDatabase;
  let db: Kysely<Database>;
  beforeAll(async () => {
    opened = await open();
    ({ db } = opened);
  });

  it('watches every table, but for those that are left out with a reason', async () => {
    const { rows } = await sql<{ name: string; triggers: string[] }>`
      select tablename as name, array(select tgname::text from pg_trigger
        where tgrelid = tablename::regclass and tgname like 'audit\_%' and tgenabled = 'O' order by tgname) as triggers
      from pg_tables where schemaname = current_schema() order by tablename`.execute(db);
    expect(rows.length).toBeGreaterThan(25);
    const missing = rows.filter(({ name }) => !Object.hasOwn(notWatched, name));
    for (const { name, triggers } of missing)
      expect(triggers, `${name}: attach it with audit_table in its migration`).toEqual([
        'audit_delete',
        'audit_insert',
        'audit_truncate',
        'audit_update',
      ]);
    expect(rows.map(({ name }) => name)).toEqual(expect.arrayContaining(Object.keys(notWatched)));
  });

  it('writes who, what, from what to what, of updates only what changed', async () => {
    const someone = { name: 'Ada', accountId: null, requestId: 'request-1' };
    const { id, version } = await actingAs(someone, () => insertSeason(db, season('audited')));
    const changed = { ...season('renamed'), version };
    await actingAs({ ...someone, requestId: 'request-2' }, () => updateSeason(db, id, changed));
    await db.deleteFrom('season').where('id', '=', id).execute();
    const entries = (await entriesOf(db, 'season')).filter(({ recordId }) => recordId === id);
    expect(entries).toMatchObject([
      { action: 'insert', before: null, after: { name: 'audited', starts_on: '2031-01-01', version: 1 } },
      {
        action: 'update',
        actor: 'Ada',
        requestId: 'request-2',
        before: { name: 'audited', version: 1 },
        after: { name: 'renamed', version: 2 },
      },
      { action: 'delete', actor: 'program', requestId: null, before: { name: 'renamed' }, after: null },
    ]);
    expect(Object.keys(entries[1]?.before ?? {}).sort()).toEqual(['name', 'version']);
  });

  it('leaves no trace of what was rolled back, and no gap', async () => {
    const before = await db.selectFrom('auditHead').selectAll().executeTakeFirstOrThrow();
    const undone = db.transaction().execute(async (trx) => {
      await counterparty(trx, 'Undone Buyer (invented)');
      throw new Error('thought better of it');
    });
    await expect(undone).rejects.toThrow('thought better');
    await counterparty(db, 'Kept Buyer (invented)');
    const after = await db.selectFrom('auditHead').selectAll().executeTakeFirstOrThrow();
    expect(BigInt(after.sequence) - BigInt(before.sequence)).toBe(1n);
    expect((await entriesOf(db, 'counterparty')).map(({ after: row }) => row?.['name'])).toEqual([
      'Kept Buyer (invented)',
    ]);
  });

  it('keeps secrets out', async () => {
    await sql`create table door (id integer primary key, password_hash text, code_secret text, colour text)`.execute(
      db,
    );
    await sql`select audit_table('door')`.execute(db);
    await sql`insert into door values (1, 'scrypt$abc', 'JBSWY3DP', 'green')`.execute(db);
    await sql`update door set password_hash = 'scrypt$def'`.execute(db);
    await sql`create table pass (token_hash text primary key, colour text)`.execute(db);
    await sql`select audit_table('pass')`.execute(db);
    await sql`insert into pass values ('0f0f0f0f', 'red')`.execute(db);
    const kept = JSON.stringify([...(await entriesOf(db, 'door')), ...(await entriesOf(db, 'pass'))]);
    expect(kept).not.toMatch(/scrypt|JBSWY|0f0f0f/);
    expect(kept).toMatch(/green.*red/);
    await sql`drop table door, pass`.execute(db);
  });

  it('sums a statement of many quotations up, and its fingerprint can be worked again from the rows', async () => {
    const rows = Array.from({ length: 300 }, (_, day) => ({
      metal: 'Au',
      quotedOn: new Date(Date.UTC(2020, 0, 1 + day)).toISOString().slice(0, 10),
      price: `${1500 + day}.50`,
      currency: 'USD',
      unit: 'ozt' as const,
      source: 'an invented market',
    }));
    await db.insertInto('quotation').values(rows).execute();
    const [entry] = await entriesOf(db, 'quotation');
    const lines = rows.map((row) => `(Au,${row.quotedOn},${row.price},USD,ozt,"an invented market")`);
    const sha256 = createHash('sha256').update(lines.sort().join('\n')).digest('hex');
    expect(entry).toMatchObject({ action: 'insert', rowCount: '300', recordId: null, after: { sha256 } });
  });

  it('takes no change, no removal and no emptying of what it says', async () => {
    const stays = /stays as it was written/;
    await expect(sql`update audit_entry set actor = 'nobody'`.execute(db)).rejects.toThrow(stays);
    await expect(sql`delete from audit_entry where sequence = 1`.execute(db)).rejects.toThrow(stays);
    await expect(sql`truncate audit_entry`.execute(db)).rejects.toThrow(stays);
    await expect(sql`update audit_head set hash = 'x'`.execute(db)).rejects.toThrow(/only goes forward/);
    await expect(sql`delete from audit_head`.execute(db)).rejects.toThrow(/only goes forward/);
  });

  it('notes when a table is emptied', async () => {
    await sql`truncate imported_file`.execute(db);
    expect(await entriesOf(db, 'imported_file')).toMatchObject([{ action: 'truncate', rowCount: '0' }]);
  });

  it('is chained once for a transaction, however much it writes: one by one takes ever longer', async () => {
    const before = await db.selectFrom('auditHead').selectAll().executeTakeFirstOrThrow();
    const moves = await db.transaction().execute(async (trx) => {
      const movesSoFar = async (): Promise<number> => {
        const { rows } = await sql<{ moves: string }>`
          select n_tup_upd as moves from pg_stat_xact_user_tables where relname = 'audit_head'`.execute(trx);
        return Number(rows[0]?.moves);
      };
      const atFirst = await movesSoFar();
      for (let part = 0; part < 3; part += 1)
        await trx
          .insertInto('counterparty')
          .values(
            Array.from({ length: 100 }, (_, place) => ({
              id: crypto.randomUUID(),
              name: `Buyer ${part}-${place} (invented)`,
            })),
          )
          .execute();
      await sql`set constraints all immediate`.execute(trx);
      return (await movesSoFar()) - atFirst;
    });
    expect(moves).toBe(1);
    const after = await db.selectFrom('auditHead').selectAll().executeTakeFirstOrThrow();
    expect(BigInt(after.sequence) - BigInt(before.sequence)).toBe(300n);
    expect((await verifyAudit(db)).faults).toEqual([]);
  });

  it('holds when many write at once, from several processes as it were, across each other', async () => {
    const names = Array.from({ length: 12 }, (_, place) => `Crossing Buyer ${place} (invented)`);
    for (const name of names) await counterparty(db, name);
    const write = (turn: number) =>
      db.transaction().execute(async (trx) => {
        await trx
          .updateTable('counterparty')
          .set({ remarks: `turn ${turn}` })
          .where('name', '=', names[turn % names.length] ?? '')
          .execute();
        await counterparty(trx, `Turn ${turn} (invented)`);
      });
    await Promise.all(Array.from({ length: 60 }, (_, turn) => write(turn)));
    const { faults, entryCount, head } = await verifyAudit(db);
    expect(faults).toEqual([]);
    expect(String(entryCount)).toBe(head.sequence);
  });
});
