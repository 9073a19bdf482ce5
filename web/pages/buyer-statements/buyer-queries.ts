import { keepPreviousData, queryOptions } from '@tanstack/react-query';
import type { NewBuyerStatement, ReadBuyerLines } from '../../../api/schemas/buyer-statement.ts';
import { readBuyerLines } from '../../../api/schemas/buyer-statement.ts';
import { api, ApiProblem, noAnswer, problemOf, send } from '../../api.ts';

export const buyerStatementsQuery = (statementId: string) =>
  queryOptions({
    queryKey: ['buyer-statements', statementId],
    queryFn: () => send(api['buyer-statements'].$get({ query: { statementId } })),
  });

export type ComparisonEntry = Pick<NewBuyerStatement, 'statementId' | 'lines' | 'total'>;

/** Lines held against ours by the server without being kept; the last answer stays while the next is worked. */
export const comparisonQuery = (entry: ComparisonEntry | null) =>
  queryOptions({
    queryKey: ['buyer-comparison', entry],
    queryFn: async ({ signal }) => {
      if (entry === null) throw new Error('There is nothing to be held against ours yet.');
      return send(api['buyer-statements'].preview.$post({ json: entry }, { init: { signal } }));
    },
    enabled: entry !== null,
    placeholderData: keepPreviousData,
    throwOnError: false,
    retry: false,
  });

/** Sends a table as it is and gets its lines, with what is wrong with it. */
export async function askReadLines(statementId: string, table: BodyInit): Promise<ReadBuyerLines> {
  let response: Response;
  try {
    response = await fetch(`/api/buyer-statements/read?${new URLSearchParams({ statementId })}`, {
      method: 'POST',
      headers: { 'content-type': 'text/csv' },
      body: table,
    });
  } catch (cause) {
    throw noAnswer(cause);
  }
  if (!response.ok) throw new ApiProblem(await problemOf(response));
  return readBuyerLines.parse(await response.json());
}
