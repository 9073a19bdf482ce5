import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { inTransaction } from './in-transaction.ts';
import { NotFound } from './changed.ts';
import { groupBy } from './group-by.ts';
import { numberOf } from './numbers.ts';
import { lockVersion } from './versioned.ts';
import type { newTreatment, Treatment, treatmentChange } from '../../api/schemas/treatment.ts';
import type { Database } from '../schema.ts';

export async function listTreatments(db: Kysely<Database>): Promise<Treatment[]> {
  const rows = await db.selectFrom('treatment').selectAll().orderBy('retired').orderBy('name').execute();
  const recipes = groupBy(
    await db
      .selectFrom('treatmentRecipe')
      .innerJoin('supply', 'supply.id', 'treatmentRecipe.supplyId')
      .select(['treatmentId', 'supplyId', 'gramsPerHundredG'])
      .orderBy('supply.name')
      .execute(),
    (row) => row.treatmentId,
  );
  return rows.map((row) => ({
    ...row,
    recipe: (recipes.get(row.id) ?? []).map(({ supplyId, gramsPerHundredG }) => ({
      supplyId,
      gramsPerHundredG,
    })),
    chargeSizeKg: Number(row.chargeSizeKg),
    roastHoursPerCharge: Number(row.roastHoursPerCharge),
    furnaceHoursPerCharge: Number(row.furnaceHoursPerCharge),
    labourHoursPerCharge: Number(row.labourHoursPerCharge),
    fuelPerCharge: Number(row.fuelPerCharge),
    crucibleLifeCharges: Number(row.crucibleLifeCharges),
    roastPanKg: numberOf(row.roastPanKg),
    leadReturnLowFrac: Number(row.leadReturnLowFrac),
    leadReturnModeFrac: Number(row.leadReturnModeFrac),
    leadReturnHighFrac: Number(row.leadReturnHighFrac),
    goldRecoveryMeanFrac: Number(row.goldRecoveryMeanFrac),
    goldRecoverySdFrac: Number(row.goldRecoverySdFrac),
    silverRecoveryMeanFrac: Number(row.silverRecoveryMeanFrac),
    silverRecoverySdFrac: Number(row.silverRecoverySdFrac),
    doreFinenessFrac: Number(row.doreFinenessFrac),
  }));
}

export async function findTreatment(db: Kysely<Database>, id: string): Promise<Treatment> {
  const treatment = (await listTreatments(db)).find((one) => one.id === id);
  if (treatment === undefined) throw new NotFound('treatment');
  return treatment;
}

async function putRecipe(
  trx: Kysely<Database>,
  treatmentId: string,
  recipe: z.infer<typeof newTreatment>['recipe'],
): Promise<void> {
  await trx.deleteFrom('treatmentRecipe').where('treatmentId', '=', treatmentId).execute();
  if (recipe.length > 0)
    await trx
      .insertInto('treatmentRecipe')
      .values(recipe.map((one) => ({ treatmentId, ...one })))
      .execute();
}

export async function insertTreatment(
  db: Kysely<Database>,
  fields: z.infer<typeof newTreatment>,
  id: string = crypto.randomUUID(),
): Promise<Treatment> {
  return inTransaction(db, async (trx) => {
    const { recipe, ...row } = fields;
    await trx
      .insertInto('treatment')
      .values({ id, ...row })
      .execute();
    await putRecipe(trx, id, recipe);
    return findTreatment(trx, id);
  });
}

export async function updateTreatment(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof treatmentChange>,
): Promise<Treatment> {
  return inTransaction(db, async (trx) => {
    const { recipe, version, ...row } = fields;
    await lockVersion(trx, 'treatment', 'treatment', id, version);
    await trx
      .updateTable('treatment')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    await putRecipe(trx, id, recipe);
    return findTreatment(trx, id);
  });
}
