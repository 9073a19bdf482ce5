import { queryOptions } from '@tanstack/react-query';
import { api, send } from '../../api.ts';

export const accountsQuery = queryOptions({
  queryKey: ['accounts'],
  queryFn: () => send(api.accounts.$get()),
});

export const sessionsOfQuery = (accountId: string) =>
  queryOptions({
    queryKey: ['accounts', accountId, 'sessions'],
    queryFn: () => send(api.accounts[':id'].sessions.$get({ param: { id: accountId } })),
  });

export const downloadLinksQuery = queryOptions({
  queryKey: ['download-links'],
  queryFn: () => send(api['download-links'].$get()),
});
