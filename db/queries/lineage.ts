import { sql, type Kysely } from 'kysely';
import { NotFound } from './changed.ts';
import type { Lineage, LineageEdge, LineageNode } from '../../api/schemas/lineage.ts';
import type { Database } from '../schema.ts';

type Kind = LineageNode['kind'];
interface Step {
  from: { kind: Kind; id: string };
  to: { kind: Kind; id: string };
  massKg: string | null;
  on: string | null;
}

const keyOf = ({ kind, id }: { kind: Kind; id: string }): string => `${kind}:${id}`;
const among = (ids: readonly string[]) => sql<string>`any(${ids}::uuid[])`;

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
async function stepsBack(db: Kysely<Database>, kind: Kind, ids: string[]): Promise<Step[]> {
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
async function stepsOn(db: Kysely<Database>, kind: Kind, ids: string[]): Promise<Step[]> {
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

async function nodesOf(db: Kysely<Database>, kind: Kind, ids: string[]): Promise<LineageNode[]> {
  const rows = await rowsOf(db, kind, ids);
  return rows.map((row) => ({ ...row, kind, key: keyOf({ kind, id: row.id }) }));
}

async function rowsOf(
  db: Kysely<Database>,
  kind: Kind,
  ids: string[],
): Promise<Omit<LineageNode, 'kind' | 'key'>[]> {
  const none = sql<string | null>`null::text`;
  switch (kind) {
    case 'day':
      return db
        .selectFrom('productionDay')
        .select([
          'id',
          'day as code',
          'day as on',
          sql<string | null>`trim_scale(concentrate_wet_kg * (1 - concentrate_moisture_frac))`.as('massKg'),
          sql<string>`''`.as('about'),
        ])
        .where('id', '=', among(ids))
        .execute();
    case 'lot':
      return db
        .selectFrom('lot')
        .select([
          'id',
          'code',
          'madeOn as on',
          sql<string | null>`trim_scale(wet_mass_kg * (1 - moisture_frac))`.as('massKg'),
          'description as about',
        ])
        .where('id', '=', among(ids))
        .execute();
    case 'batch':
      return db
        .selectFrom('batch')
        .leftJoin('treatment', 'treatment.id', 'batch.treatmentId')
        .select([
          'batch.id',
          'batch.code',
          sql<string>`coalesce(finished_on, started_on, planned_on)::text`.as('on'),
          sql<string | null>`trim_scale(dry_mass_kg)`.as('massKg'),
          sql<string>`coalesce(treatment.name, 'sold as concentrate')`.as('about'),
        ])
        .where('batch.id', '=', among(ids))
        .execute();
    case 'product':
      return db
        .selectFrom('product')
        .select([
          'id',
          'code',
          'madeOn as on',
          sql<string | null>`trim_scale(mass_kg)`.as('massKg'),
          sql<string>`kind`.as('about'),
        ])
        .where('id', '=', among(ids))
        .execute();
    case 'shipment':
      return db
        .selectFrom('shipment')
        .innerJoin('counterparty', 'counterparty.id', 'shipment.counterpartyId')
        .select(['shipment.id', 'code', 'shippedOn as on', none.as('massKg'), 'counterparty.name as about'])
        .where('shipment.id', '=', among(ids))
        .execute();
    case 'statement':
      return db
        .selectFrom('statement')
        .select([
          'id',
          sql<string>`coalesce(number, 'draft')`.as('code'),
          sql<string>`coalesce(issued_on, created_at::date)::text`.as('on'),
          none.as('massKg'),
          sql<string>`stage`.as('about'),
        ])
        .where('id', '=', among(ids))
        .execute();
  }
}

function byKind(keys: Iterable<string>): Map<Kind, string[]> {
  const groups = new Map<Kind, string[]>();
  for (const key of keys) {
    const [kind, id] = key.split(':') as [Kind, string];
    groups.set(kind, [...(groups.get(kind) ?? []), id]);
  }
  return groups;
}

/** Beyond so many no picture and no list is of use. */
const MOST_NODES = 600;

/** Everything that a thing was made from, and everything that came of it; what else its sources went into is left out. */
export async function findLineage(db: Kysely<Database>, of: string): Promise<Lineage> {
  const start = of.toLowerCase();
  const found = new Set([start]);
  const edges = new Map<string, LineageEdge>();
  let cutOff = false;

  async function follow(steps: typeof stepsBack, end: 'from' | 'to'): Promise<void> {
    let frontier = new Set([start]);
    const seen = new Set([start]);
    while (frontier.size > 0) {
      const next = new Set<string>();
      for (const [kind, ids] of byKind(frontier))
        for (const step of await steps(db, kind, ids)) {
          const key = keyOf(step[end]);
          if (!found.has(key) && found.size >= MOST_NODES) {
            cutOff = true;
            continue;
          }
          const edge = { from: keyOf(step.from), to: keyOf(step.to), massKg: step.massKg, on: step.on };
          edges.set(JSON.stringify(edge), edge);
          found.add(key);
          if (seen.has(key)) continue;
          seen.add(key);
          next.add(key);
        }
      frontier = next;
    }
  }
  await follow(stepsBack, 'from');
  await follow(stepsOn, 'to');

  const nodes: LineageNode[] = [];
  for (const [kind, ids] of byKind(found)) nodes.push(...(await nodesOf(db, kind, ids)));
  if (!nodes.some(({ key }) => key === start)) throw new NotFound('record to follow');
  nodes.sort((a, b) => a.on.localeCompare(b.on) || a.code.localeCompare(b.code));
  return { of: start, nodes, edges: [...edges.values()], cutOff };
}
