import { createHash } from 'node:crypto';
import type { Context } from 'hono';
import type { Kysely } from 'kysely';
import { Problem } from '../problem.ts';
import { ChangedSince } from '../../db/queries/changed.ts';
import { lockRecord, type Versioned } from '../../db/queries/versioned.ts';
import type { Database } from '../../db/schema.ts';

/** The records whose changes need their version, by their name in addresses. */
const versioned: Record<string, { table: Versioned; what: string }> = {
  lots: { table: 'lot', what: 'lot' },
  seasons: { table: 'season', what: 'season' },
  balances: { table: 'balance', what: 'balance' },
  supplies: { table: 'supply', what: 'supply' },
  treatments: { table: 'treatment', what: 'treatment' },
  counterparties: { table: 'counterparty', what: 'counterparty' },
  trials: { table: 'trial', what: 'trial' },
  'test-smelts': { table: 'testSmelt', what: 'test smelt' },
  batches: { table: 'batch', what: 'batch' },
  products: { table: 'product', what: 'product' },
  statements: { table: 'statement', what: 'statement' },
  days: { table: 'productionDay', what: 'day' },
  shipments: { table: 'shipment', what: 'shipment' },
  'supply-purchases': { table: 'supplyPurchase', what: 'purchase' },
  'supply-counts': { table: 'supplyCount', what: 'count' },
  expenses: { table: 'expense', what: 'expense' },
  'buyer-statements': { table: 'buyerStatement', what: 'buyer’s statement' },
};

const UUID = '[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}';
const oneRecord = new RegExp(`^/api/([a-z-]+)/(${UUID})$`, 'i');

/**
 * Names the state of one record in the header ETag (RFC 9110, 8.8.3): the version of its own fields, then a digest
 * of all that is shown with it.
 */
export async function tagRecord(c: Context): Promise<void> {
  const isRecord = oneRecord.test(c.req.path) || /^\/api\/(mill|cupellation)$/.test(c.req.path);
  const { status, headers } = c.res;
  if (!isRecord || status !== 200 || !(headers.get('content-type') ?? '').includes('application/json'))
    return;
  const text = await c.res.clone().text();
  const { version, versionNumber } = JSON.parse(text) as { version?: number; versionNumber?: number };
  const digest = createHash('sha256').update(text).digest('hex').slice(0, 16);
  c.header('etag', `"${version ?? versionNumber ?? 0}.${digest}"`);
}

/**
 * Holds If-Match (RFC 9110, 13.1.1) against the record: what counts is the version of its own fields, with or
 * without the digest behind it. Whatever is removed must be named in the state in which it was seen (RFC 6585, 3).
 */
export async function requireMatch(c: Context, trx: Kysely<Database>): Promise<void> {
  const [, name = '', id = ''] = oneRecord.exec(c.req.path) ?? [];
  const record = Object.hasOwn(versioned, name) ? versioned[name] : undefined;
  const header = c.req.header('if-match');
  if (header === undefined) {
    if (record !== undefined && c.req.method === 'DELETE')
      throw new Problem(
        'version-needed',
        `Say with the header If-Match which version of the ${record.what} is to be removed, as its ETag had it.`,
      );
    return;
  }
  if (record === undefined || header.trim() === '*') return;
  const versions = header.split(',').map((tag) => /^\s*"(\d{1,9})(?:\.[0-9a-f]+)?"\s*$/.exec(tag)?.[1]);
  const asked = versions.map(Number);
  const found = await lockRecord(trx, record.table, record.what, id.toLowerCase());
  if (!asked.includes(found))
    throw new ChangedSince(`The ${record.what}`, {
      table: record.table,
      id: id.toLowerCase(),
      version: Number.isNaN(asked[0]) ? null : (asked[0] ?? null),
    });
}
