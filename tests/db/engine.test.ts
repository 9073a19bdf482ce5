import { sql } from 'kysely';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { CONNECTION_WAIT_MS } from '../../db/engine/engine.ts';
import { openDatabase, type OpenDatabase } from '../../db/open.ts';
import { describeOnEmbedded, describeOnEveryEngine } from '../support/engines.ts';

describeOnEveryEngine('both engines', (open) => {
  let opened: OpenDatabase;
  beforeAll(async () => {
    opened = await open();
  });

  it('keep exact and calendar values as text, and parse jsonb', async () => {
    const { rows } = await sql`
      select date '2026-03-01' as day, 12345678901234567890.10::numeric as amount, 9007199254740993::int8 as big,
        timestamptz '2026-03-01 14:05:00.25+02' as at, '{"assay_no": [1, 2.5]}'::jsonb as facts,
        array[1.10, 2]::numeric[] as amounts, array[date '2026-03-01'] as days, array[9007199254740993] as bigs,
        1.5::float8 as estimate, 7::int4 as count, true as agreed, null::date as none`.execute(opened.db);
    expect(rows).toEqual([
      {
        day: '2026-03-01',
        amount: '12345678901234567890.10',
        big: '9007199254740993',
        at: '2026-03-01T12:05:00.25Z',
        facts: { assay_no: [1, 2.5] },
        amounts: ['1.10', '2'],
        days: ['2026-03-01'],
        bigs: ['9007199254740993'],
        estimate: 1.5,
        count: 7,
        agreed: true,
        none: null,
      },
    ]);
  });

  it('keep units in column names, and leave the inside of jsonb alone', async () => {
    const { rows } = await sql`select 1 as bead_mg, 2 as grade_gpt, 3 as price_usd_per_ozt, 4 as roast_temp_c,
      5 as sample_mass_g, '{"lossMg": {"cupel_no": 1, "beadMg": 2}}'::jsonb as cupel_losses`.execute(
      opened.db,
    );
    expect(rows).toEqual([
      {
        beadMg: 1,
        gradeGpt: 2,
        priceUsdPerOzt: 3,
        roastTempC: 4,
        sampleMassG: 5,
        cupelLosses: { lossMg: { cupel_no: 1, beadMg: 2 } },
      },
    ]);
  });

  it('write parameters alike', async () => {
    const { rows } = await sql`select ${'1.50'}::numeric as amount, ${1.25}::float8 as estimate,
      ${JSON.stringify([1, 'two'])}::jsonb as list, ${['a', 'b']}::text[] as words, ${null}::date as none,
      ${new Date('2026-03-01T12:05:00.250Z')}::timestamptz as at, ${true}::boolean as agreed`.execute(
      opened.db,
    );
    expect(rows).toEqual([
      {
        amount: '1.50',
        estimate: 1.25,
        list: [1, 'two'],
        words: ['a', 'b'],
        none: null,
        at: '2026-03-01T12:05:00.25Z',
        agreed: true,
      },
    ]);
  });

  it('run in UTC, commit and roll back, and refuse to call a broken transaction committed', async () => {
    const { db } = opened;
    expect((await sql`show timezone`.execute(db)).rows).toEqual([{ TimeZone: 'UTC' }]);
    await sql`create table counted (id integer primary key)`.execute(db);
    await db.transaction().execute(async (trx) => sql`insert into counted values (1)`.execute(trx));
    const undone = db.transaction().execute(async (trx) => {
      await sql`insert into counted values (2)`.execute(trx);
      throw new Error('the caller thought better of it');
    });
    await expect(undone).rejects.toThrow('thought better');
    const broken = db.transaction().execute(async (trx) => {
      await sql`insert into counted values (1)`.execute(trx).catch(() => undefined);
    });
    await expect(broken).rejects.toThrow(/rolled back/);
    expect((await sql`select id from counted`.execute(db)).rows).toEqual([{ id: 1 }]);
  });

  it('name the constraint that refused a row', async () => {
    const { db } = opened;
    await sql`create table bead (id integer primary key, bead_mg numeric constraint bead_not_negative check (bead_mg >= 0))`.execute(
      db,
    );
    const refused = { code: '23514', constraint: 'bead_not_negative', table: 'bead' };
    await expect(sql`insert into bead values (1, -1)`.execute(db)).rejects.toMatchObject(refused);
  });

  it('answer queries that are asked at the same time', async () => {
    const asked = Array.from({ length: 20 }, (_, id) =>
      sql<{ id: number }>`select ${id}::int4 as id`.execute(opened.db),
    );
    const answers = await Promise.all(asked);
    expect(answers.map(({ rows }) => rows[0]?.id)).toEqual(Array.from({ length: 20 }, (_, id) => id));
  });
});

describeOnEmbedded('one connection', (open) => {
  it('says what is wrong when a query inside a transaction does not go through it', async () => {
    const { db } = await open();
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    await db.transaction().execute(async () => {
      const refused = expect(sql`select 1`.execute(db)).rejects.toThrow(
        /every query must go through its trx/,
      );
      await vi.advanceTimersByTimeAsync(CONNECTION_WAIT_MS + 1);
      await refused;
    });
    vi.useRealTimers();
    expect((await sql`select 1 as one`.execute(db)).rows).toEqual([{ one: 1 }]);
  });
});

describe('a server that is not there', () => {
  it('is noticed when the database is opened', async () => {
    const nowhere = openDatabase({
      databaseUrl: 'postgresql://nobody@127.0.0.1:1/nothing',
      durability: 'durable',
    });
    await expect(nowhere).rejects.toMatchObject({ code: 'ECONNREFUSED' });
  });
});
