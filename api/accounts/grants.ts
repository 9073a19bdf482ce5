import type { Role } from '../schemas/account.ts';

/** To whom an endpoint may be open beside the owner. */
export type Grant =
  | 'operator'
  | 'accountant'
  /** Every account. */
  | 'customer'
  /** A customer, for a record of their own: the `id` of the address is looked up before the endpoint is reached. */
  | 'customer:own-lot'
  | 'customer:own-statement'
  /** A customer, where the endpoint itself gives nothing but their own records (`ownRecordsOf`). */
  | 'customer:own-list'
  /** Whoever asks, also without an account. */
  | 'anyone';

/** Where the description of an endpoint says who may use it. */
export const GRANTS_FIELD = 'x-allowed-to';

/** What a grant set means for a role: yes, no, or only for records of their own. */
export function verdict(
  grants: readonly string[],
  role: Role,
): 'yes' | 'no' | 'own-lot' | 'own-statement' | 'own-list' {
  if (role === 'owner' || grants.includes('anyone') || grants.includes(role)) return 'yes';
  if (role !== 'customer') return 'no';
  if (grants.includes('customer:own-lot')) return 'own-lot';
  if (grants.includes('customer:own-statement')) return 'own-statement';
  return grants.includes('customer:own-list') ? 'own-list' : 'no';
}

/** The changes that are closed to a role, as a page names them: `PUT /mill`. */
export function closedChanges(known: ReadonlyMap<string, readonly string[]>, role: Role): string[] {
  return [...known].flatMap(([key, grants]) =>
    key.startsWith('GET ') || verdict(grants, role) !== 'no' ? [] : [key.replace(' /api', ' ')],
  );
}

interface Described {
  method: string;
  path: string;
  [GRANTS_FIELD]?: readonly string[];
}

/** `GET /api/lots/:id` → who may use it. `base` is what the descriptions leave out of their paths. */
export function grantsByEndpoint(
  base: string,
  endpoints: readonly Described[],
): Map<string, readonly string[]> {
  return new Map(
    endpoints.flatMap((endpoint) => {
      const grants = endpoint[GRANTS_FIELD];
      return grants === undefined
        ? []
        : [[endpointKey(endpoint.method, `${base}${endpoint.path}`), grants] as const];
    }),
  );
}

/** One spelling for what the document and the router write differently. */
export function endpointKey(method: string, path: string): string {
  return `${method.toUpperCase()} ${path.replaceAll(/\{(\w+)\}/g, ':$1').replace(/(.)\/$/, '$1')}`;
}
