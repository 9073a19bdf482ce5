import { z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import type { ZodType } from 'zod';
import { answers } from './describe.ts';
import { hasOnlyCharacters, id, ONLY_CHARACTERS } from '../schemas/fields.ts';
import type { PageAsked, Paged } from '../../db/queries/page.ts';

/** Of no list more rows are given at once. */
export const MOST_ROWS = 400;

/** How much of a list is asked for; `usual` rows where nothing is said. */
export const paging = (usual: number, most = MOST_ROWS) => ({
  limit: z.coerce
    .number()
    .int()
    .min(1)
    .max(most)
    .default(usual)
    .openapi({ description: `So many rows at most: ${usual} unless said, never more than ${most}.` }),
  after: id.optional().openapi({
    description:
      'The id of the last row that is known already; the page begins behind it. Where more rows come, the answer’s header Link names the address of the next page.',
  }),
  newestFirst: z
    .enum(['true', 'false'])
    .default('false')
    .openapi({ description: 'Whether the list begins with its newest row.' }),
});

const longestIdList = 37 * MOST_ROWS;

/** Ids with commas between; one that is not there is passed over. */
export const idList = z
  .string()
  .max(longestIdList)
  .transform((typed) => typed.split(','))
  .pipe(z.array(id).max(MOST_ROWS))
  .optional()
  .openapi({ type: 'string', description: 'Only these: ids with commas between.' });

/** Typed to find a record by. */
export const sought = z
  .string()
  .trim()
  .max(120, 'must be at most 120 characters')
  .refine(hasOnlyCharacters, ONLY_CHARACTERS)
  .optional();

/** The answers of an endpoint that gives one page of a list. */
export function listAnswers<S extends ZodType>(row: S, description: string) {
  const { 200: success, ...problems } = answers(z.array(row), description);
  return {
    200: {
      ...success,
      headers: {
        Link: {
          description: 'The address of the next page, with rel="next" (RFC 8288); left out on the last page',
          schema: { type: 'string' },
        },
      },
    },
    ...problems,
  } as const;
}

/** The page that a request asks for. */
export const pageAsked = ({
  limit,
  after,
  newestFirst,
}: {
  limit: number;
  after?: string | undefined;
  newestFirst: 'true' | 'false';
}): PageAsked => ({ limit, after, newestFirst: newestFirst === 'true' });

/** The rows of a page, with the address of the next one said in the header Link. */
export function rowsOf<Row>(c: Context, { rows, next }: Paged<Row>): Row[] {
  if (next !== null) {
    const { pathname, searchParams } = new URL(c.req.url);
    searchParams.set('after', next);
    c.header('Link', `<${pathname}?${searchParams.toString()}>; rel="next"`);
  }
  return rows;
}
