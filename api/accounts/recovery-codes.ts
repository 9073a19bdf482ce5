import { randomBytes } from 'node:crypto';
import { tokenHash } from './tokens.ts';
import { base32 } from './totp.ts';

const COUNT = 10;

/** Ten codes of 80 random bits, in groups of four: NIST SP 800-63B-4, 3.1.2, asks for at least 20. */
export function newRecoveryCodes(): string[] {
  return Array.from({ length: COUNT }, () => (base32(randomBytes(10)).match(/.{4}/g) ?? []).join('-'));
}

/** What is kept of a code, however it was typed. */
export function recoveryCodeHash(code: string): string {
  return tokenHash(code.toUpperCase().replaceAll(/[^A-Z2-7]/g, ''));
}
