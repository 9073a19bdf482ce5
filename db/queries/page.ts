import { sql, type Kysely, type SelectQueryBuilder } from 'kysely';
import { Refused } from './changed.ts';
import type { Database } from '../schema.ts';

/** Which rows of a list are asked for. */
export interface PageAsked {
  /** So many at most. */
  limit: number;
  /** The id of the last row that is known already; the page begins behind it. */
  after?: string | undefined;
  newestFirst?: boolean | undefined;
}

export interface Paged<Row> {
  rows: Row[];
  /** The id to ask on with as `after`; null where nothing more comes. */
  next: string | null;
}

/** The order of a list: SQL expressions that are never null, of which the last is the id, and the tables they are read from. */
export interface ListOrder {
  by: readonly string[];
  from: string;
}

/**
 * One page of a list by its keys, so that a page far back costs no more than the first, and none is left out or given
 * twice while others enter records.
 */
export async function pageOf<Tables, Names extends keyof Tables, Row extends { id: string }>(
  db: Kysely<Database>,
  query: SelectQueryBuilder<Tables, Names, Row>,
  order: ListOrder,
  { limit, after, newestFirst = false }: PageAsked,
): Promise<Paged<Row>> {
  const keys = sql.raw(order.by.join(', '));
  const from = sql.raw(order.from);
  const id = sql.raw(order.by.at(-1) ?? '');
  let page = query.clearOrderBy().limit(limit + 1);
  for (const key of order.by) page = page.orderBy(sql.raw(key), newestFirst ? 'desc' : 'asc');
  if (after !== undefined) {
    const seen = await sql`select 1 from ${from} where ${id} = ${after}`.execute(db);
    if (seen.rows.length === 0)
      throw new Refused('/after', 'names a row that is not in the list: begin at the first page again');
    const beyond = sql.raw(newestFirst ? '<' : '>');
    page = page.where(sql<boolean>`(${keys}) ${beyond} (select ${keys} from ${from} where ${id} = ${after})`);
  }
  const found = await page.execute();
  const rows = found.slice(0, limit);
  return { rows, next: found.length > limit ? (rows.at(-1)?.id ?? null) : null };
}

/** The same page with its rows filled in. */
export async function filledIn<Row, Filled>(
  page: Promise<Paged<Row>>,
  fill: (rows: Row[]) => Promise<Filled[]> | Filled[],
): Promise<Paged<Filled>> {
  const { rows, next } = await page;
  return { rows: await fill(rows), next };
}

/** A text to be found anywhere in another, whatever its capitals: % and _ stand for themselves. */
export const anywhere = (typed: string): string => `%${typed.replaceAll(/[\\%_]/g, '\\$&')}%`;
