import type { Kysely } from 'kysely';
import { findMill } from '../db/queries/mill.ts';
import { findShipment } from '../db/queries/shipments.ts';
import { packingListReport } from '../reports/model/packing-list-report.ts';
import type { Report } from '../reports/model/report.ts';
import type { Database } from '../db/schema.ts';

/** The packing list of a shipment as a report. */
export async function packingListDocument(
  db: Kysely<Database>,
  id: string,
): Promise<{ report: Report; code: string }> {
  const shipment = await findShipment(db, id);
  const { address } = await db
    .selectFrom('counterparty')
    .select('address')
    .where('id', '=', shipment.counterpartyId)
    .executeTakeFirstOrThrow();
  const report = packingListReport({ shipment, counterpartyAddress: address, mill: await findMill(db) });
  return { report, code: shipment.code };
}
