import { sql, type Kysely } from 'kysely';
import type { Database } from '../../../db/schema.ts';
import { camelCase } from '../../../db/audit/camel-case.ts';
import { importKinds } from '../../../api/schemas/import.ts';
import type { JsonSchema, Operation } from './operations.ts';
import { nameOf, type Known } from './requests.ts';

export type Ask = (method: string, path: string) => Promise<Response>;

const IDS_OF_A_TABLE = 30;
const EXAMPLES = 6;

/** The ids that are in the tables just now. */
async function idsIn(db: Kysely<Database>): Promise<Map<string, string[]>> {
  const tables = await sql<{ name: string }>`
    select table_name as name from information_schema.columns
    where table_schema = current_schema() and column_name = 'id' and data_type = 'uuid'`.execute(db);
  const ids = new Map<string, string[]>();
  for (const { name } of tables.rows) {
    const { rows } = await sql<{ id: string }>`
      select id from ${sql.id(name)} order by md5(id::text) limit ${IDS_OF_A_TABLE}`.execute(db);
    ids.set(
      camelCase(name),
      rows.map(({ id }) => id),
    );
  }
  return ids;
}

type Plain = Record<string, unknown>;
const isPlain = (value: unknown): value is Plain =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function objectsIn(value: unknown): Plain[] {
  if (Array.isArray(value)) return value.flatMap(objectsIn);
  return isPlain(value) ? [value, ...Object.values(value).flatMap(objectsIn)] : [];
}

/** What of a record its own schema names. */
function cutTo(schema: JsonSchema, value: unknown): unknown {
  if (Array.isArray(value)) return value.map((one) => cutTo(schema.items ?? {}, one));
  if (!isPlain(value) || schema.properties === undefined) return value;
  const { properties } = schema;
  return Object.fromEntries(
    Object.entries(value).flatMap(([name, inner]) => {
      const of = properties[name];
      return of === undefined ? [] : [[name, cutTo(of, inner)]];
    }),
  );
}

/** Bodies as they were once entered, found in what the API shows of its records. */
function examplesIn(operations: readonly Operation[], answers: readonly unknown[]): Map<string, unknown[]> {
  const objects = answers.flatMap(objectsIn);
  return new Map(
    operations.flatMap((operation) => {
      const { body } = operation;
      const required = body?.required ?? [];
      if (body === null || required.length === 0) return [];
      const fitting = objects.filter((one) => required.every((name) => name in one));
      const spread = fitting.filter((_, at) => at % Math.max(1, Math.floor(fitting.length / EXAMPLES)) === 0);
      return [[nameOf(operation), spread.slice(0, EXAMPLES).map((one) => cutTo(body, one))] as const];
    }),
  );
}

/** Looks around in the books as an owner would, so that requests can be about what is there. */
export async function lookAround(
  db: Kysely<Database>,
  operations: readonly Operation[],
  ask: Ask,
  before?: Known,
): Promise<Known> {
  const ids = await idsIn(db);
  if (before !== undefined) return { ...before, ids };
  const answers: unknown[] = [];
  for (const { method, path } of operations) {
    if (method !== 'GET' || /\.(pdf|csv|zip)$|downloads|imports/.test(path)) continue;
    const table = [...ids.keys()].find((name) =>
      path
        .split('{id}')[0]
        ?.replaceAll('-', '')
        .endsWith(`${name.toLowerCase().replace(/y$/, 'ie')}s/`),
    );
    const own = path.includes('{id}') ? (ids.get(table ?? '') ?? []).slice(0, 3) : [''];
    for (const id of own) {
      const answer = await ask('GET', path.replace('{id}', id));
      if (answer.ok && answer.headers.get('content-type')?.includes('json') === true)
        answers.push(await answer.json());
    }
  }
  const files: string[] = ['label,quantity,amount\nTreatment,10,-250\nGold,1.5,3000\nTotal,,2750\n'];
  for (const kind of importKinds)
    files.push(await (await ask('GET', `/api/imports/templates/${kind}`)).text());
  return { ids, examples: examplesIn(operations, answers), files };
}
