import { sql, type Kysely } from 'kysely';
import { expect, it } from 'vitest';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { keptGrades } from '../../db/queries/kept-grades.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import type { Database } from '../../db/schema.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { loadSeasons } from '../support/ten-seasons/load.ts';
import { SEASON_SIZE } from '../support/ten-seasons/records.ts';

const LOTS = 6;

/** What may happen to the records that grades rest on. A `?` stands for the id of a lot in the middle. */
const CHANGES: Record<string, string> = {
  'a bead is weighed again': `update test_smelt set parted_gold_mg = parted_gold_mg * 0.9, bead_mg = bead_mg * 0.95
    where trial_id in (select id from trial where lot_id = ?)`,
  'a test is set aside': `update test_smelt set set_aside_reason = 'Spilled.'
    where id = (select min(test_smelt.id::text)::uuid from test_smelt join trial on trial.id = trial_id where lot_id = ?)`,
  'an assay is removed': `delete from lab_assay where lot_id = ?`,
  'a trial is given another treatment': `update trial set treatment_id = null where lot_id = ? and name = 'Trial 1'`,
  'a reagent of a test is put right': `update test_smelt_reagent set mass_g = mass_g + 1
    where test_smelt_id in (select test_smelt.id from test_smelt join trial on trial.id = trial_id where lot_id = ?)`,
  'a lot is made of another': `insert into lot_part (id, lot_id, from_lot_id, dry_mass_kg, taken_on)
    select gen_random_uuid(), (select id from lot where code like 'I2024%' order by code desc limit 1), ?, 20, '2024-12-01'`,
  'the lot behind a blend gets an assay': `insert into lab_assay (id, lot_id, laboratory, assayed_on, element, unit, value, standard_uncertainty)
    select gen_random_uuid(), ?, 'Invented laboratory', '2024-12-02', 'Au', 'g/t', 400, 4`,
  'a day is put right': `update lot set made_on = '2024-12-20' where id = ?`,
  'the wet mass is put right': `update lot set moisture_frac = 0.2 where id = ?`,
  'the gold is said to be coarse': `insert into lot_sampling (lot_id, model, grain_size_mm, grain_shape, gold_frac, silver_with_gold)
    select ?, 'coarse-gold', 0.5, 'nugget', 0.9, false`,
  'a balance turns out worse': `update balance set readability_g = readability_g * 20`,
  'losses in cupelling are corrected for': `update cupellation set correction = 'stated', gold_loss_frac = 0.02,
    gold_loss_standard_uncertainty_frac = 0.002, silver_loss_frac = 0.04, silver_loss_standard_uncertainty_frac = 0.004`,
  'more is expected of the treatments': `update treatment set gold_recovery_mean_frac = 0.97, gold_recovery_sd_frac = 0.01`,
};

const inTheBooks = async (db: Kysely<Database>): Promise<string[]> =>
  (await db.selectFrom('lot').select('id').where('code', 'like', 'I2024%').orderBy('code').execute()).map(
    ({ id }) => id,
  );

describeOnEveryEngine('grades of lots that are kept', (open) => {
  it('are those that would be inferred anew, whatever is changed', { timeout: 240_000 }, async () => {
    const { db } = await open();
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    const size = { ...SEASON_SIZE, days: 40, lots: LOTS, statements: 2 };
    await loadSeasons(db, { seasons: 1, lastYear: 2024, size });
    const lots = await inTheBooks(db);
    const middle = lots[2] ?? '';
    await keptGrades(db, lots);
    for (const [name, change] of Object.entries(CHANGES)) {
      await sql.raw(change.replaceAll('?', `'${middle}'::uuid`)).execute(db);
      const kept = await keptGrades(db, lots);
      const again = await keptGrades(db, lots);
      await db.deleteFrom('lotGrade').execute();
      await db.deleteFrom('lotRecovery').execute();
      const anew = await keptGrades(db, lots);
      expect(anew.pending).toEqual([]);
      expect(anew.grades.size).toBe(LOTS);
      expect(Object.fromEntries(kept.grades), name).toEqual(Object.fromEntries(anew.grades));
      expect(Object.fromEntries(again.grades), name).toEqual(Object.fromEntries(anew.grades));
    }
  });

  it('stay when a later lot is tested, and go when an earlier one is', { timeout: 120_000 }, async () => {
    const { db } = await open();
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    await loadSeasons(db, {
      seasons: 1,
      lastYear: 2024,
      size: { ...SEASON_SIZE, days: 40, lots: LOTS, statements: 2 },
    });
    const lots = await inTheBooks(db);
    const before = await keptGrades(db, lots);
    const kept = async (): Promise<string[]> =>
      (await db.selectFrom('lotGrade').select('lotId').orderBy('madeOn').execute()).map(({ lotId }) => lotId);
    expect((await kept()).toSorted()).toEqual(lots.toSorted());
    await db
      .deleteFrom('labAssay')
      .where('lotId', '=', lots[3] ?? '')
      .execute();
    expect((await kept()).toSorted()).toEqual(lots.slice(0, 3).toSorted());
    const after = await keptGrades(db, lots);
    expect(after.grades.get(lots[0] ?? '')).toEqual(before.grades.get(lots[0] ?? ''));
    expect(after.grades.get(lots[3] ?? '')).not.toEqual(before.grades.get(lots[3] ?? ''));
  });

  it('are not kept when records were changed while they were inferred', { timeout: 120_000 }, async () => {
    const { db } = await open();
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    const lots = (await db.selectFrom('lot').select('id').orderBy('code').execute()).map(({ id }) => id);
    const looking = keptGrades(db, lots);
    await db.updateTable('labAssay').set({ value: '1' }).where('element', '=', 'Au').execute();
    await looking;
    const now = await keptGrades(db, lots);
    await db.deleteFrom('lotGrade').execute();
    expect(Object.fromEntries(now.grades)).toEqual(Object.fromEntries((await keptGrades(db, lots)).grades));
  });

  it('do not keep a page waiting: what there was no time for is said and comes at the next look', async () => {
    const { db } = await open();
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    const lots = (await db.selectFrom('lot').select('id').orderBy('code').execute()).map(({ id }) => id);
    const { grades, pending } = await keptGrades(db, lots, { withinMs: 0 });
    expect([grades.size, pending.length]).toEqual([0, lots.length]);
    expect((await keptGrades(db, lots)).grades.size).toBe(lots.length);
    expect((await keptGrades(db, lots, { withinMs: 0 })).pending).toEqual([]);
  });
});
