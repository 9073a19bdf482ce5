import { sql, type Kysely } from 'kysely';
import type { LineageNode } from '../../api/schemas/lineage.ts';
import type { Database } from '../schema.ts';

type Kind = LineageNode['kind'];

/** What went from one record into another, how much and when. */
export interface Step {
  from: { kind: Kind; id: string };
  to: { kind: Kind; id: string };
  massKg: string | null;
  on: string | null;
}

export const keyOf = ({ kind, id }: { kind: Kind; id: string }): string => `${kind}:${id}`;
export const among = (ids: readonly string[]) => sql<string>`any(${ids}::uuid[])`;

function partSteps(db: Kysely<Database>) {
  return db.selectFrom('lotPart').select([
    'lotId',
    'takenOn',
    sql<string>`trim_scale(dry_mass_kg)`.as('massKg'),
    sql<Kind>`case when production_day_id is not null then 'day' when from_lot_id is not null then 'lot'
        else 'product' end`.as('kind'),
    sql<string>`coalesce(production_day_id, from_lot_id, product_id)`.as('sourceId'),
  ]);
}

type PartRow = Awaited<ReturnType<ReturnType<typeof partSteps>['execute']>>[number];
const partStep = (row: PartRow): Step => ({
  from: { kind: row.kind, id: row.sourceId },
  to: { kind: 'lot', id: row.lotId },
  massKg: row.massKg,
  on: row.takenOn,
});

/** What things of one kind were made from. */
export async function stepsBack(db: Kysely<Database>, kind: Kind, ids: string[]): Promise<Step[]> {
  const whole = (from: Kind, to: Kind) => (row: { fromId: string; toId: string; massKg?: string }) => ({
    from: { kind: from, id: row.fromId },
    to: { kind: to, id: row.toId },
    massKg: row.massKg ?? null,
    on: null,
  });
  switch (kind) {
    case 'day':
      return [];
    case 'lot':
      return (await partSteps(db).where('lotId', '=', among(ids)).execute()).map(partStep);
    case 'batch':
      return (
        await db
          .selectFrom('batch')
          .select(['lotId as fromId', 'id as toId', sql<string>`trim_scale(dry_mass_kg)`.as('massKg')])
          .where('id', '=', among(ids))
          .execute()
      ).map(whole('lot', 'batch'));
    case 'product':
      return (
        await db
          .selectFrom('product')
          .select(['batchId as fromId', 'id as toId'])
          .where('id', '=', among(ids))
          .execute()
      ).map(whole('batch', 'product'));
    case 'shipment':
      return (
        await db
          .selectFrom('shipmentProduct')
          .select(['productId as fromId', 'shipmentId as toId'])
          .where('shipmentId', '=', among(ids))
          .execute()
      ).map(whole('product', 'shipment'));
    case 'statement':
      return (
        await db
          .selectFrom('statement')
          .select(['productId as fromId', 'id as toId'])
          .where('id', '=', among(ids))
          .execute()
      ).map(whole('product', 'statement'));
  }
}

/** What was made from things of one kind, and where it went. */
export async function stepsOn(db: Kysely<Database>, kind: Kind, ids: string[]): Promise<Step[]> {
  switch (kind) {
    case 'day':
      return (await partSteps(db).where('productionDayId', '=', among(ids)).execute()).map(partStep);
    case 'lot': {
      const lots = await partSteps(db).where('fromLotId', '=', among(ids)).execute();
      const batches = await db
        .selectFrom('batch')
        .select(['id', 'lotId', sql<string>`trim_scale(dry_mass_kg)`.as('massKg')])
        .where('lotId', '=', among(ids))
        .where('status', '<>', 'cancelled')
        .execute();
      return [
        ...lots.map(partStep),
        ...batches.map(({ id, lotId, massKg }): Step => ({
          from: { kind: 'lot', id: lotId },
          to: { kind: 'batch', id },
          massKg,
          on: null,
        })),
      ];
    }
    case 'batch': {
      const products = await db
        .selectFrom('product')
        .select(['id', 'batchId'])
        .where('batchId', '=', among(ids))
        .execute();
      return products.map(({ id, batchId }): Step => ({
        from: { kind: 'batch', id: batchId },
        to: { kind: 'product', id },
        massKg: null,
        on: null,
      }));
    }
    case 'product': {
      const lots = await partSteps(db).where('productId', '=', among(ids)).execute();
      const shipments = await db
        .selectFrom('shipmentProduct')
        .selectAll()
        .where('productId', '=', among(ids))
        .execute();
      const statements = await db
        .selectFrom('statement')
        .select(['id', 'productId'])
        .where('productId', '=', among(ids))
        .where('status', '=', 'issued')
        .execute();
      const product = (id: string) => ({ kind: 'product' as const, id });
      return [
        ...lots.map(partStep),
        ...shipments.map(({ shipmentId, productId }): Step => ({
          from: product(productId),
          to: { kind: 'shipment', id: shipmentId },
          massKg: null,
          on: null,
        })),
        ...statements.map(({ id, productId }): Step => ({
          from: product(productId),
          to: { kind: 'statement', id },
          massKg: null,
          on: null,
        })),
      ];
    }
    case 'shipment':
    case 'statement':
      return [];
  }
}
