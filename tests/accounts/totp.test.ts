import { describe, expect, it } from 'vitest';
import {
  acceptedStep,
  base32,
  codeAt,
  fromBase32,
  newSecret,
  otpauthLink,
  stepAt,
} from '../../api/accounts/totp.ts';

describe('codes from a telephone', () => {
  // RFC 6238, appendix B: the table of time, hash and code, for the secrets of its reference implementation.
  const secrets = {
    sha1: '12345678901234567890',
    sha256: '12345678901234567890123456789012',
    sha512: '1234567890123456789012345678901234567890123456789012345678901234',
  };
  it.each([
    [59, 'sha1', '94287082'],
    [59, 'sha256', '46119246'],
    [59, 'sha512', '90693936'],
    [1111111109, 'sha1', '07081804'],
    [1111111109, 'sha256', '68084774'],
    [1111111109, 'sha512', '25091201'],
    [1111111111, 'sha1', '14050471'],
    [1111111111, 'sha256', '67062674'],
    [1111111111, 'sha512', '99943326'],
    [1234567890, 'sha1', '89005924'],
    [1234567890, 'sha256', '91819424'],
    [1234567890, 'sha512', '93441116'],
    [2000000000, 'sha1', '69279037'],
    [2000000000, 'sha256', '90698825'],
    [2000000000, 'sha512', '38618901'],
    [20000000000, 'sha1', '65353130'],
    [20000000000, 'sha256', '77737706'],
    [20000000000, 'sha512', '47863826'],
  ] as const)('are at %i s with %s those of RFC 6238, appendix B', (seconds, hash, code) => {
    const step = stepAt(new Date(seconds * 1000));
    expect(codeAt(Buffer.from(secrets[hash]), step, { digits: 8, hash })).toBe(code);
  });

  // RFC 4648, 10: test vectors, without padding.
  it.each([
    ['', ''],
    ['f', 'MY'],
    ['fo', 'MZXQ'],
    ['foo', 'MZXW6'],
    ['foob', 'MZXW6YQ'],
    ['fooba', 'MZXW6YTB'],
    ['foobar', 'MZXW6YTBOI'],
  ])('write the secret %j in base 32 as RFC 4648 does', (text, written) => {
    expect(base32(Buffer.from(text))).toBe(written);
    expect(fromBase32(written).toString()).toBe(text);
  });

  it('are taken a step early or late, and never twice', () => {
    const secret = base32(Buffer.from(secrets.sha1));
    const now = new Date(1111111109 * 1000);
    const code = codeAt(fromBase32(secret), stepAt(now));
    const at = (seconds: number, last: number | null = null): number | undefined =>
      acceptedStep(secret, code, new Date(now.getTime() + seconds * 1000), last);
    expect(at(0)).toBe(stepAt(now));
    expect(at(30)).toBe(stepAt(now));
    expect(at(-30)).toBe(stepAt(now));
    expect(at(90)).toBeUndefined();
    expect(at(-90)).toBeUndefined();
    expect(at(0, stepAt(now))).toBeUndefined();
    expect(acceptedStep(secret, '', now, null)).toBeUndefined();
  });

  it('come from secrets of 160 bits, told to the telephone with who and where', () => {
    const secret = newSecret();
    expect(fromBase32(secret)).toHaveLength(20);
    expect(newSecret()).not.toBe(secret);
    const link = new URL(otpauthLink({ issuer: 'Mill at the creek', name: 'Ann & Co', secret }));
    expect(link.protocol).toBe('otpauth:');
    expect(link.searchParams.get('secret')).toBe(secret);
    expect(link.searchParams.get('issuer')).toBe('Mill at the creek');
    expect(decodeURIComponent(link.pathname)).toContain('Mill at the creek:Ann & Co');
  });
});
