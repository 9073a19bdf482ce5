import type { Context } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';

/**
 * The cookie of a session. `Strict`: it goes along only from Poursheet's own pages. On an https address it is
 * `Secure` and bound to the host by its name (RFC 6265bis, 4.1.3.2, the prefix "__Host-").
 */
const NAME = 'poursheet_session';

/** Whether the page was asked for under an https address, which a proxy in front has taken. */
const isSecure = (c: Context): boolean => c.get('securePage') === true;

const nameFor = (c: Context): string => (isSecure(c) ? `__Host-${NAME}` : NAME);

export function sessionToken(c: Context): string | undefined {
  return getCookie(c, nameFor(c));
}

export function putSessionCookie(c: Context, token: string, maxAgeS: number): void {
  setCookie(c, nameFor(c), token, {
    httpOnly: true,
    sameSite: 'Strict',
    path: '/',
    secure: isSecure(c),
    maxAge: maxAgeS,
  });
}

export function dropSessionCookie(c: Context): void {
  deleteCookie(c, nameFor(c), { httpOnly: true, sameSite: 'Strict', path: '/', secure: isSecure(c) });
}

/** Where the request came from, as far as that is known. */
export function clientAddress(c: Context): string {
  return (c.get('clientAddress') as string | undefined) ?? 'this machine';
}
