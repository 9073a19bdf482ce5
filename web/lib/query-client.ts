import { QueryClient } from '@tanstack/react-query';
import { ApiProblem } from '../api.ts';

/** Refusals are final; only a missing answer or a server in trouble is tried again. */
export function isWorthRetrying(failures: number, error: Error): boolean {
  const status = error instanceof ApiProblem ? error.problem.status : null;
  return failures < 2 && status !== null && (status === 0 || status === 503);
}

/**
 * The server stands in the same cabin: it is asked even where the browser
 * believes itself offline, because there is often no internet at a mill.
 */
export function createQueryClient(): QueryClient {
  return new QueryClient({
    defaultOptions: {
      queries: { networkMode: 'always', retry: isWorthRetrying, staleTime: 10_000, throwOnError: true },
      mutations: { networkMode: 'always', retry: false },
    },
  });
}
