import { scrypt } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { passwordFault } from '../../api/accounts/password-rules.ts';
import { createPasswords } from '../../api/accounts/passwords.ts';

const alone = {
  hasCodes: false,
  words: ['Ann Miller', 'Ann', 'Miller', 'Creek Mill', 'Creek', 'Mill', 'poursheet'],
};
const quick = createPasswords({ cost: 1024 });

describe('the rules for passwords (NIST SP 800-63B-4, 3.1.1.2)', () => {
  it('ask for 15 characters, or 8 beside a code, and count every code point as one', () => {
    expect(passwordFault('tin heron lodge', alone)).toBeUndefined();
    expect(passwordFault('tin heron lodg', alone)).toMatch(/is 14 characters long: it must have at least 15/);
    expect(passwordFault('tinheron', { ...alone, hasCodes: true })).toBeUndefined();
    expect(passwordFault('tinhero', { ...alone, hasCodes: true })).toMatch(/at least 8/);
    expect(passwordFault('🦩🐊🦉🐈🐕🦜🐇🐢🦔🐓🐖🐑🐐🦌🐎', alone)).toBeUndefined();
    expect(passwordFault('🦩🐊🦉🐈🐕🦜🐇', alone)).toMatch(/is 7 characters long/);
  });

  it('ask for no capitals, digits or signs, and take any of them, spaces too', () => {
    for (const password of [
      'onlysmalllettershere',
      'ONLYCAPITALSINHERE',
      '8391047265510398',
      '~!@#%^&*()_+{}|:"',
    ])
      expect(passwordFault(password, alone), password).toBeUndefined();
    expect(passwordFault('x'.repeat(3).concat(' spruce and granite '.repeat(10)), alone)).toBeUndefined();
  });

  it.each([
    'passwordpassword',
    'Password-Password-1234',
    'correct horse battery staple',
    'aaaaaaaaaaaaaaaaaaaa',
    'abcabcabcabcabcabc',
    '123456789012345',
    'qwertyuiopasdfgh',
    'zyxwvutsrqponmlkji',
    'iloveyouiloveyou2026',
    'annmillerannmiller',
    'Creek Mill Poursheet',
    'annmillerpassword1',
    'goldmine1234567890',
  ])('refuse what is tried first: %s', (password) => {
    expect(passwordFault(password, alone)).toMatch(/choose another$/);
  });

  it('hold the whole password against the list, not words in it', () => {
    expect(passwordFault('my password is a heron', alone)).toBeUndefined();
    expect(passwordFault('Miller goes fishing at noon', alone)).toBeUndefined();
  });
});

describe('kept passwords', () => {
  it('are scrypt as RFC 7914 has it', async () => {
    // RFC 7914, 12: the second test vector, by the function of Node that is used here.
    const key = await new Promise<Buffer>((resolve, reject) => {
      scrypt('password', 'NaCl', 64, { N: 1024, r: 8, p: 16, maxmem: 2 ** 26 }, (error, derived) =>
        error === null ? resolve(derived) : reject(error),
      );
    });
    expect(key.toString('hex')).toMatch(/^fdbabe1c9d3472007856e7190d01e9fe7c6ad7cbc8237830e77376634b373162/);
  });

  it('take 128 MiB of work each by default, and are salted', async () => {
    const kept = await createPasswords().hash('tin heron lodge');
    const [kind, cost, salt = '', key = ''] = kept.split('$');
    expect([kind, Number(cost)]).toEqual(['scrypt', 2 ** 17]);
    expect(Buffer.from(salt, 'base64url')).toHaveLength(16);
    expect(Buffer.from(key, 'base64url')).toHaveLength(32);
    expect(await quick.verify('tin heron lodge', kept)).toBe(true);
    expect(await quick.hash('tin heron lodge')).not.toBe(await quick.hash('tin heron lodge'));
  });

  it('are known again as typed, also with letters composed otherwise, and never cut off', async () => {
    const kept = await quick.hash('café at the weir ﬁve');
    expect(await quick.verify('café at the weir five', kept)).toBe(true);
    expect(await quick.verify('cafe at the weir five', kept)).toBe(false);
    const long = `${'granite and spruce '.repeat(13)}`;
    const keptLong = await quick.hash(`${long}a`);
    expect(await quick.verify(`${long}a`, keptLong)).toBe(true);
    expect(await quick.verify(`${long}b`, keptLong)).toBe(false);
    expect(await quick.verify('', null)).toBe(false);
  });

  it('are worked a few at a time, and beyond a full waiting room refused to be tried again', async () => {
    const many = await Promise.allSettled(Array.from({ length: 60 }, () => quick.verify('x', null)));
    const refused = many.filter((one) => one.status === 'rejected');
    expect(many.length - refused.length).toBe(32);
    for (const { reason } of refused) expect(reason).toMatchObject({ kind: 'too-many', retryAfterS: 5 });
    expect(await quick.verify('x', null)).toBe(false);
  });
});
