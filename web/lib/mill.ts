import { queryOptions } from '@tanstack/react-query';
import { api, send } from '../api.ts';

/** The mill's settings: its name, units and whether its season is invented. */
export const millQuery = queryOptions({
  queryKey: ['mill'],
  queryFn: () => send(api.mill.$get()),
});
