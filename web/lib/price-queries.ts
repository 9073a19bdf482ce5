import { queryOptions } from '@tanstack/react-query';
import type { Quotation } from '../../api/schemas/supply.ts';
import { api, send } from '../api.ts';

/** The last quotation of every metal, currency and unit on or before a day. */
export const latestQuotationsQuery = (on: string) =>
  queryOptions({
    queryKey: ['quotations', 'latest', on],
    queryFn: () => send(api.quotations.latest.$get({ query: { on } })),
  });

/** So many quotations of a metal are drawn and listed, the newest. */
const MOST_QUOTATIONS = 800;

/** The daily quotations of one metal, newest first, in every currency and unit that it is quoted in. */
export const quotationsQuery = (metal: string) =>
  queryOptions({
    queryKey: ['quotations', metal],
    queryFn: (): Promise<Quotation[]> =>
      send(api.quotations.$get({ query: { metal, limit: String(MOST_QUOTATIONS) } })),
  });
