import type { Kysely } from 'kysely';
import type { Supply } from '../../api/schemas/supply.ts';
import type { Database } from '../schema.ts';

/** The lead that a treatment charges and gets back; where only litharge is charged, the lead on the list. */
export async function leadByTreatment(
  db: Kysely<Database>,
  supplies: readonly Pick<Supply, 'id' | 'kind'>[],
): Promise<Map<string, string>> {
  const kinds = new Map(supplies.map((supply) => [supply.id, supply.kind]));
  const anyLead = supplies.find((supply) => supply.kind === 'lead');
  const leads = new Map<string, string>();
  for (const { treatmentId, supplyId } of await db.selectFrom('treatmentRecipe').selectAll().execute()) {
    if (kinds.get(supplyId) === 'lead') leads.set(treatmentId, supplyId);
    else if (kinds.get(supplyId) === 'litharge' && anyLead !== undefined && !leads.has(treatmentId))
      leads.set(treatmentId, anyLead.id);
  }
  return leads;
}
