import { sql, type Kysely } from 'kysely';
import { NotFound } from './changed.ts';
import type { Lineage, LineageEdge, LineageNode } from '../../api/schemas/lineage.ts';
import type { Database } from '../schema.ts';
import { among, keyOf, stepsBack, stepsOn } from './lineage-steps.ts';

type Kind = LineageNode['kind'];
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
