import type { MiddlewareHandler } from 'hono';
import { Problem } from '../problem.ts';

/** In seconds: half a year. */
const REMEMBER_TLS_S = 15_552_000;

const loopbackName = /^(localhost|127(\.\d{1,3}){3}|\[::1\])(:\d+)?$/i;
const loopbackAddress = /^(127(\.\d{1,3}){3}|::1)$/;

interface Connected {
  incoming?: { socket?: { remoteAddress?: string } };
}

/**
 * Answers only under the names of this machine and of `origins`, and takes changes only from pages of the same
 * address. A page elsewhere can point a name of its own at this machine and then read answers as its own ("DNS
 * rebinding"); the Host header still carries that name. Nor can it change anything here, though it may send requests
 * whose answers it cannot read. Also notes what the sessions need to know of the connection.
 */
export function guardOrigins(origins: readonly string[]): MiddlewareHandler {
  const byHost = new Map(origins.map((origin) => [new URL(origin).host, new URL(origin).origin]));
  return async (c, next) => {
    const host = (c.req.header('host') ?? '').toLowerCase();
    const origin =
      byHost.get(host) ??
      // Some clients write the port that goes without saying.
      byHost.get(host.replace(/:(80|443)$/, '')) ??
      (loopbackName.test(host) ? new URL(`http://${host}`).origin : undefined);
    if (origin === undefined)
      throw new Problem(
        'forbidden',
        origins.length === 0
          ? 'Poursheet answers only under the name of this machine, such as 127.0.0.1.'
          : `Poursheet answers only under ${origins.join(', ')}.`,
      );
    requireOwnPage(c.req.method, origin, c.req.header('origin'), c.req.header('sec-fetch-site'));

    const isSecure = origin.startsWith('https:');
    c.set('securePage', isSecure);
    const direct = directAddress(c.env as Connected | undefined);
    if (direct !== undefined)
      c.set('clientAddress', behindProxy(direct, origins, c.req.header('x-forwarded-for')) ?? direct);
    await next();
    if (isSecure) c.res.headers.set('strict-transport-security', `max-age=${REMEMBER_TLS_S}`);
  };
}

function requireOwnPage(
  method: string,
  own: string,
  origin: string | undefined,
  site: string | undefined,
): void {
  if (['GET', 'HEAD', 'OPTIONS'].includes(method)) return;
  const fromElsewhere =
    (origin !== undefined && origin !== own) ||
    (site !== undefined && site !== 'same-origin' && site !== 'none');
  if (fromElsewhere)
    throw new Problem('forbidden', 'Changes are taken from the pages of Poursheet itself only.');
}

function directAddress(connected: Connected | undefined): string | undefined {
  return connected?.incoming?.socket?.remoteAddress?.replace(/^::ffff:/, '');
}

/** A proxy on this machine says last from where it was asked; anybody else could write there what they like. */
function behindProxy(
  direct: string,
  origins: readonly string[],
  forwarded: string | undefined,
): string | undefined {
  if (origins.length === 0 || !loopbackAddress.test(direct)) return undefined;
  return forwarded?.split(',').at(-1)?.trim() || undefined;
}
