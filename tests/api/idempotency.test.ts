import fc from 'fast-check';
import { sql } from 'kysely';
import { expect, it } from 'vitest';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { millApi } from '../support/mill.ts';

const supply = (name: string) => ({ name, kind: 'reagent', unit: 'kg' });
const under = (key: string) => ({ 'idempotency-key': `"${key}"` });

// IETF draft "The Idempotency-Key HTTP Header Field" (draft-ietf-httpapi-idempotency-key-header), 2.
describeOnEveryEngine('a request with an idempotency key', (open) => {
  it('is answered again as it was, and does its work once', async () => {
    const { db } = await open();
    const { send } = millApi(db);
    const first = await send('POST', '/supplies', supply('Borax'), under('once'));
    const again = await send('POST', '/supplies', supply('Borax'), under('once'));
    expect(again).toMatchObject({ status: 201, body: first.body });
    expect(await db.selectFrom('supply').selectAll().execute()).toHaveLength(1);

    const other = await send('POST', '/supplies', supply('Soda'), under('once'));
    expect(other).toMatchObject({ status: 422 });
    expect(other.body.detail).toMatch(/used for another request/);
    expect((await send('POST', '/supplies', supply('Soda'), { 'idempotency-key': '"' })).status).toBe(400);
  });

  it('is worked anew where it was refused', async () => {
    const { db } = await open();
    const { send, enter } = millApi(db);
    const { id, version } = await enter('POST', '/supplies', supply('Silica'));
    expect((await send('POST', '/supplies', supply('Silica'), under('later'))).status).toBe(409);
    await enter('PUT', `/supplies/${id}`, { ...supply('Sand'), version });
    expect((await send('POST', '/supplies', supply('Silica'), under('later'))).status).toBe(201);
  });

  it('is answered once for a change as well: a repeated change is no conflict with itself', async () => {
    const { db } = await open();
    const { send, enter } = millApi(db);
    const { id } = await enter('POST', '/supplies', supply('Fluorspar'));
    const change = { ...supply('Fluorspar, ground'), version: 1 };
    const first = await send('PUT', `/supplies/${id}`, change, under('change'));
    expect(await send('PUT', `/supplies/${id}`, change, under('change'))).toMatchObject({
      status: 200,
      body: first.body,
    });
    expect((await send('PUT', `/supplies/${id}`, change)).status).toBe(412);
  });

  it('is refused while the first is under way', async () => {
    const { db } = await open();
    const { send } = millApi(db);
    const answers = await Promise.all(
      Array.from({ length: 5 }, () => send('POST', '/supplies', supply('Iron'), under('at once'))),
    );
    const statuses = answers.map(({ status }) => status);
    expect(statuses).toContain(201);
    expect(statuses.filter((status) => status !== 201 && status !== 409)).toEqual([]);
    expect(statuses).toContain(409);
    expect(await db.selectFrom('supply').selectAll().execute()).toHaveLength(1);
    expect((await send('POST', '/supplies', supply('Iron'), under('at once'))).status).toBe(201);
  });

  it('is forgotten after seven days', async () => {
    const { db } = await open();
    const { send } = millApi(db);
    await send('POST', '/supplies', supply('Nitre'), under('old'));
    await sql`update idempotency set created_at = now() - interval '7 days 1 minute'`.execute(db);
    expect((await send('POST', '/supplies', supply('Nitre'), under('old'))).status).toBe(409);
    await send('POST', '/supplies', supply('Lead'), under('new'));
    expect(await db.selectFrom('idempotency').select('key').execute()).toEqual([{ key: 'new' }]);
  });

  it('never books twice, however often and in whatever order it is sent again', async () => {
    const { db } = await open();
    const { send } = millApi(db);
    const entry = fc.record({
      place: fc.nat(5),
      times: fc.integer({ min: 1, max: 3 }),
      atOnce: fc.boolean(),
    });
    let run = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(entry, { minLength: 1, maxLength: 8 }), async (entries) => {
        run += 1;
        const booked = new Map<string, string>();
        for (const { place, times, atOnce } of entries) {
          const name = `run ${run}, supply ${place}`;
          const one = () => send('POST', '/supplies', supply(name), under(name));
          const answers = atOnce ? await Promise.all(Array.from({ length: times }, one)) : [];
          if (!atOnce) for (let time = 0; time < times; time += 1) answers.push(await one());
          for (const { status, body } of answers) {
            if (status === 409) continue;
            expect(status).toBe(201);
            expect(booked.get(name) ?? body.id).toBe(body.id);
            booked.set(name, body.id as string);
          }
        }
        const { rows } = await sql<{
          name: string;
        }>`select name from supply where name like ${`run ${run},%`}`.execute(db);
        expect(rows.map(({ name }) => name).sort()).toEqual([...booked.keys()].sort());
      }),
      { numRuns: 25 },
    );
  });

  it('keeps its answer in the transaction of its work: neither is there without the other', async () => {
    const { db } = await open();
    const { send } = millApi(db);
    await sql`create function no_answers() returns trigger language plpgsql as $$ begin raise exception 'the power fails here'; end $$`.execute(
      db,
    );
    await sql`create trigger no_answers before insert on idempotency for each row execute function no_answers()`.execute(
      db,
    );
    expect((await send('POST', '/supplies', supply('Litharge'), under('cut short'))).status).toBe(500);
    expect(await db.selectFrom('supply').selectAll().execute()).toEqual([]);
    await sql`drop trigger no_answers on idempotency`.execute(db);
    expect((await send('POST', '/supplies', supply('Litharge'), under('cut short'))).status).toBe(201);
    expect(await db.selectFrom('supply').selectAll().execute()).toHaveLength(1);
  });

  it('that takes long to work out is answered once too, and lets others in meanwhile', async () => {
    const { db } = await open();
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    const { send, enter } = millApi(db);
    const lots = (await enter('GET', '/lots')) as { id: string; leftKg: string }[];
    const lot = lots.find(({ leftKg }) => Number(leftKg) > 20);
    const decision = {
      lotId: lot?.id,
      decidedOn: '2026-10-01',
      dryMassKg: '20',
      chosen: null,
      reason: 'Invented',
      assumptions: {},
    };
    const before = (await enter('GET', '/decisions')).length;
    let isDone = false;
    const first = send('POST', '/decisions', decision, under('decided')).then((answer) => {
      isDone = true;
      return answer;
    });
    expect((await send('GET', '/mill')).status).toBe(200);
    // On the embedded engine all share one connection: a transaction would have kept this waiting.
    expect(isDone).toBe(false);
    expect((await first).status).toBe(201);
    const again = await send('POST', '/decisions', decision, under('decided'));
    expect(again).toMatchObject({ status: 201, body: (await first).body });
    expect(
      (await send('POST', '/decisions', { ...decision, reason: 'Other' }, under('decided'))).status,
    ).toBe(422);
    expect(await enter('GET', '/decisions')).toHaveLength(before + 1);
    // What is refused when it is written leaves nothing, and its key is free.
    const tooMuch = { ...decision, lotId: '00000000-0000-4000-8000-000000000000' };
    expect((await send('POST', '/decisions', tooMuch, under('refused'))).status).toBeGreaterThanOrEqual(400);
    expect((await send('POST', '/decisions', decision, under('refused'))).status).toBe(201);
  });
});
