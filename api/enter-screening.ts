import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { workScreening } from './calc/facts/screening-from-record.ts';
import { listBalances } from '../db/queries/balances.ts';
import { Refused } from '../db/queries/changed.ts';
import { insertLabAssay } from '../db/queries/lots.ts';
import type { LabAssay } from './schemas/lot.ts';
import type { newScreenMetallics } from './schemas/screen-metallics.ts';
import type { Database } from '../db/schema.ts';

/** Decimals of a grade that is worked out, g/t: far below what any assay knows. */
const GRADE_DECIMALS = 4;

/**
 * Enters an assay with the coarse metal screened out: its grade is worked from the two parts and kept as a lab assay
 * of the lot, with the masses and results it was worked from and the balance as it stood.
 */
export async function enterScreening(
  db: Kysely<Database>,
  lotId: string,
  fields: z.infer<typeof newScreenMetallics>,
): Promise<LabAssay> {
  const { laboratory, certificate, assayedOn, element, balanceId, ...screened } = fields;
  const balance = (await listBalances(db)).find((one) => one.id === balanceId);
  if (balance === undefined) throw new Refused('/balanceId', 'names a balance that is not there');
  const { name, readabilityG, repeatabilityG } = balance;
  const screenMetallics = { ...screened, balance: { name, readabilityG, repeatabilityG } };
  const { gradeGpt, findings } = workScreening(screenMetallics);
  if (gradeGpt === null) throw new Refused('/fineMassG', findings[0]?.sentence ?? 'does not give a grade');
  const u = gradeGpt.u.toFixed(GRADE_DECIMALS);
  return insertLabAssay(db, lotId, {
    laboratory,
    certificate,
    assayedOn,
    method: 'screen metallics',
    element,
    unit: 'g/t',
    value: gradeGpt.value.toFixed(GRADE_DECIMALS),
    standardUncertainty: Number(u) > 0 ? u : null,
    sampleMassG: screened.coarseMassG + screened.fineMassG,
    screenMetallics,
  });
}
