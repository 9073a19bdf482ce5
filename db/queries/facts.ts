import { formatISO, parseISO, subYears } from 'date-fns';
import type { Kysely } from 'kysely';
import { listBalances } from './balances.ts';
import { findCupellation } from './cupellation.ts';
import { findLot } from './lots.ts';
import { partGrades } from './made-from.ts';
import { findMill } from './mill.ts';
import { latestQuotations } from './quotations.ts';
import { listSupplies } from './supplies.ts';
import { termsInForce } from './terms.ts';
import { listTrials } from './test-smelts.ts';
import { historyFor, treatmentHistory } from './treatment-history.ts';
import { listTreatments } from './treatments.ts';
import type { DecisionFacts } from '../../api/calc/facts/records.ts';
import type { Database } from '../schema.ts';

/** The same day of the year before; of a leap day its eve. */
function yearBefore(day: string): string {
  return formatISO(subYears(parseISO(day), 1), { representation: 'date' });
}

/** Everything that a decision about a lot is worked from, as the books stood on a day. */
export async function decisionFacts(db: Kysely<Database>, lotId: string, on: string): Promise<DecisionFacts> {
  const { currency, massUnit, metalUnit, gradeUnit } = await findMill(db);
  const priceHistory = await db
    .selectFrom('quotation')
    .select(['metal', 'quotedOn', 'price', 'currency', 'unit'])
    .where('metal', 'in', ['Au', 'Ag'])
    .where('currency', '=', currency)
    .where('unit', '=', 'ozt')
    .where('quotedOn', '>', yearBefore(on))
    .where('quotedOn', '<=', on)
    .orderBy('quotedOn')
    .execute();
  const mill = {
    balances: await listBalances(db),
    cupellation: await findCupellation(db),
    supplies: await listSupplies(db),
    treatments: await listTreatments(db),
  };
  const history = await treatmentHistory(db, on, mill);
  return {
    on,
    currency,
    units: { massUnit, metalUnit, gradeUnit },
    lot: await findLot(db, lotId),
    trials: await listTrials(db, lotId),
    ...mill,
    history: historyFor(lotId, history),
    madeFrom: await partGrades(db, { ...mill, history }).madeFrom(lotId),
    terms: await termsInForce(db, on),
    latestQuotations: await latestQuotations(db, on),
    priceHistory,
  };
}
