import { createHash, randomBytes } from 'node:crypto';

/** 256 random bits, as they stand in a cookie or a link. */
export function newToken(): string {
  return randomBytes(32).toString('base64url');
}

/** What is kept of a token: without it nobody can come in with a copy of the books. */
export function tokenHash(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}
