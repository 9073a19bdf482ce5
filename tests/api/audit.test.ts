import { sql } from 'kysely';
import { expect, it } from 'vitest';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { verifyAudit } from '../../db/audit/verify.ts';
import { newestSteps } from '../../db/queries/audit-steps.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { millApi, smallMill } from '../support/mill.ts';

describeOnEveryEngine('what was changed', (open) => {
  it('is told in plain words: who, when, which record, from what to what', async () => {
    const { db } = await open();
    const { enter, treatmentId, seasonId } = await smallMill(db);
    const fields = { seasonId, code: 'A-1', madeOn: '2026-06-10', wetMassKg: '100', moistureFrac: '0.05' };
    const lot = await enter('POST', '/lots', fields);
    await enter('PUT', `/lots/${lot.id}`, { ...fields, wetMassKg: '101.50', version: 1 });
    await enter('POST', `/lots/${lot.id}/lab-assays`, {
      laboratory: 'Invented Laboratory',
      assayedOn: '2026-06-12',
      element: 'Au',
      unit: 'g/t',
      value: '120',
    });
    const { changes, next, head } = await enter('GET', `/audit?record=${lot.id}`);
    expect(next).toBeNull();
    expect(head.hash).toMatch(/^[0-9a-f]{64}$/);
    expect(changes).toMatchObject([
      { actor: 'Owner', records: [{ kind: 'lab assay', action: 'insert' }] },
      {
        actor: 'Owner',
        records: [
          {
            kind: 'lot',
            name: 'A-1',
            action: 'update',
            fields: [{ pointer: '/wetMassKg', label: 'Wet mass, kg', from: '100', to: '101.5' }],
          },
        ],
      },
      { records: [{ kind: 'lot', name: 'A-1', action: 'insert' }] },
    ]);
    const treatment = await enter('GET', `/audit?record=${treatmentId}`);
    const labels = treatment.changes[0].records.flatMap((one: { fields: { label: string }[] }) =>
      one.fields.map(({ label }) => label),
    );
    expect(labels).toContain('Treatment recipe Soda ash: Grams per hundred, g');
  });

  it('is asked for by person, by day, and page by page, without one left out or told twice', async () => {
    const { db } = await open();
    const { enter } = await smallMill(db);
    const all = await enter('GET', '/audit?limit=200');
    const told: string[] = [];
    let address = '/audit?limit=4';
    for (;;) {
      const { changes, next } = await enter('GET', address);
      told.push(...changes.map(({ sequence }: { sequence: string }) => sequence));
      if (next === null) break;
      address = `/audit?limit=4&before=${next}`;
    }
    expect(told).toEqual(all.changes.map(({ sequence }: { sequence: string }) => sequence));
    expect((await enter('GET', '/audit?actor=Nobody')).changes).toEqual([]);
    expect((await enter('GET', '/audit?actor=Owner')).changes.length).toBeGreaterThan(10);
    expect((await enter('GET', '/audit?to=2020-01-01')).changes).toEqual([]);
    expect((await enter('GET', '/audit?from=2020-01-01')).changes.length).toBeGreaterThan(10);
  });

  it('holds for the demo season, and a statement that was tampered with is found', async () => {
    const { db } = await open();
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    const sound = await verifyAudit(db);
    expect(sound.faults).toEqual([]);
    expect(sound.statementCount).toBeGreaterThan(1);
    expect(sound.entryCount).toBeGreaterThan(150);
    const { changes } = await millApi(db).enter('GET', '/audit?limit=1');
    expect(changes[0].actor).toBe('program');

    // Worked again without indexes: the steps that fit, by their last entry.
    const { rows: wanted } = await sql<{ record: string; steps: string[] }>`
      select record, array_agg(last::text order by last desc) as steps from (
        select record, transaction_id, request_id, max(sequence) as last from audit_entry
          cross join lateral (select record_id union select owner_id) as of_record (record)
          where record in (select id::text from lot) group by record, transaction_id, request_id) as step
      group by record order by record`.execute(db);
    expect(wanted.length).toBeGreaterThan(3);
    for (const { record, steps } of wanted) {
      const found = await newestSteps(db, { record, limit: 500 });
      expect(found.map(({ last }) => last)).toEqual(steps);
      const older = await newestSteps(db, { record, before: steps[0], limit: 2 });
      expect(older.map(({ last }) => last)).toEqual(steps.slice(1, 3));
    }

    const tampered = async (statement: string): Promise<string[]> => {
      await sql`alter table statement disable trigger user`.execute(db);
      await sql`alter table audit_entry disable trigger user`.execute(db);
      await sql.raw(statement).execute(db);
      await sql`alter table statement enable trigger user`.execute(db);
      await sql`alter table audit_entry enable trigger user`.execute(db);
      return (await verifyAudit(db)).faults;
    };
    const [first] = await db
      .selectFrom('statement')
      .select(['number', 'total'])
      .where('number', '=', 'S-0001')
      .execute();
    expect(await tampered(`update statement set total = total + 0.01 where number = 'S-0001'`)).toEqual([
      'Statement S-0001 is not as it was issued: total was changed without the audit.',
    ]);
    expect(await tampered(`update statement set total = ${first?.total} where number = 'S-0001'`)).toEqual(
      [],
    );
    const line = `jsonb_set(settlement, '{total}', '"1.00"')`;
    expect(await tampered(`update statement set settlement = ${line} where number = 'S-0002'`)).toEqual([
      'Statement S-0002 is not as it was issued: settlement was changed without the audit.',
    ]);
    const faults = await tampered(`update audit_entry set after = jsonb_set(after, '{name}', '"Else"')
      where table_name = 'supply' and action = 'insert' and sequence = (select min(sequence) from audit_entry where table_name = 'supply')`);
    expect(faults.join()).toMatch(/^Entry \d+ of the audit was altered after it was written/);
    await sql`alter table lot disable trigger audit_update`.execute(db);
    expect((await verifyAudit(db)).faults.join()).toMatch(/table lot is not watched/);
  });

  it('is found to be cut short or thinned out', async () => {
    const { db } = await open();
    await smallMill(db);
    await sql`alter table audit_entry disable trigger user`.execute(db);
    await sql`delete from audit_entry where sequence = (select max(sequence) from audit_entry)`.execute(db);
    await sql`alter table audit_entry enable trigger user`.execute(db);
    expect((await verifyAudit(db)).faults.join()).toMatch(/entries at the end were removed/);
    await sql`alter table audit_entry disable trigger user`.execute(db);
    await sql`delete from audit_entry where sequence = 5`.execute(db);
    await sql`alter table audit_entry enable trigger user`.execute(db);
    expect((await verifyAudit(db)).faults.join()).toMatch(/After entry 4 of the audit comes 6/);
  });
});
