import { afterEach, expect, it, vi } from 'vitest';
import { codeAt, fromBase32, stepAt } from '../../api/accounts/totp.ts';
import { setLogLevel } from '../../api/log.ts';
import { createSite } from '../../api/site.ts';
import { account, appWithAccounts, GOOD_PASSWORD, visitor } from '../support/accounts.ts';
import { builtPages } from '../support/built-pages.ts';
import { describeOnEmbedded } from '../support/engines.ts';
import { operationsOf, type ApiDocument } from '../support/fuzz/operations.ts';
import { smallMill } from '../support/mill.ts';
import { issue, soldParcel } from '../support/settled-parcel.ts';

const NEW_PASSWORD = 'slow otter varnish';
const WRONG_PASSWORD = 'wrong lantern marble';
const HERE = 'http://127.0.0.1:4270';

afterEach(() => setLogLevel('error'));

describeOnEmbedded('what opens a door', (open) => {
  it('is shown once where it is made, and stands in no other answer, no export and no line of the log', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    await issue(mill, (await soldParcel(mill)).entry, '2026-06-09');
    const { app, now } = appWithAccounts(db);
    const site = createSite({ app, webRoot: builtPages(), now: () => performance.now() });
    let logged = '';
    vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
      logged += String(text);
      return true;
    });
    setLogLevel('debug');

    /** All that was answered after a secret was shown. */
    let answered = '';
    const host = { host: '127.0.0.1:4270' };
    const through = {
      request: (path: string, init: RequestInit = {}) =>
        site.request(`${HERE}${path}`, {
          ...init,
          headers: { ...(init.headers as Record<string, string>), ...host },
        }),
    };
    const owner = visitor(through);
    const ask = async (...args: Parameters<typeof owner.send>) => {
      const response = await owner.send(...args);
      answered += `${[...response.headers].map((header) => header.join(': ')).join('\n')}\n`;
      answered += Buffer.from(await response.arrayBuffer()).toString('latin1');
      return response.status;
    };
    const shownOnce = async (...args: Parameters<typeof owner.send>) =>
      (await (await owner.send(...args)).json()) as Record<string, unknown>;

    await account(db, { name: 'owner', role: 'owner' });
    await shownOnce('POST', '/session', { name: 'owner', password: GOOD_PASSWORD });
    const cookie = owner.cookie().split('=')[1] ?? '';
    const made = await shownOnce('POST', '/accounts', { name: 'Bob', role: 'operator' });
    const setUp = String(made['setupPath']).split('#')[1] ?? '';
    const link = await shownOnce('POST', '/download-links', {
      what: 'accountant-csv',
      seasonId: mill.seasonId,
      days: 7,
    });
    const download = String(link['path']).split('/').at(-1) ?? '';
    const offered = await shownOnce('POST', '/session/codes', { password: GOOD_PASSWORD });
    const secret = String(offered['secret']).replaceAll(' ', '');
    const code = codeAt(fromBase32(secret), stepAt(now()));
    const { recoveryCodes } = await shownOnce('PUT', '/session/codes', { code });
    const secrets = [GOOD_PASSWORD, NEW_PASSWORD, WRONG_PASSWORD, cookie, setUp, download, secret];
    for (const one of [...secrets, ...(recoveryCodes as string[])]) expect(one.length).toBeGreaterThan(7);

    // Wrong tries, and right ones.
    await ask('POST', '/session', { name: 'owner', password: WRONG_PASSWORD });
    await ask('POST', '/session', { name: WRONG_PASSWORD, password: '' });
    await ask('PUT', '/session/password', { current: WRONG_PASSWORD, password: NEW_PASSWORD });
    await ask('POST', '/session/set-up', { token: setUp, password: 'short' });
    await ask('POST', '/session/set-up', { token: setUp, password: NEW_PASSWORD.repeat(20) });
    await ask('PUT', '/session/password', { current: WRONG_PASSWORD.repeat(20), password: 7 });
    await ask('POST', '/session/set-up', { token: setUp, password: NEW_PASSWORD });
    await ask('POST', '/session/set-up', { token: setUp, password: NEW_PASSWORD });
    await ask('GET', `/downloads/${download}`);
    await ask('GET', `/downloads/${download}x`);
    await ask('POST', '/session/codes/stop', { password: WRONG_PASSWORD });
    await ask('POST', '/accounts', `{"name":"${WRONG_PASSWORD.slice(0, 3)}`);

    // Everything that can be read.
    const document = (await (await owner.send('GET', '/openapi.json')).json()) as ApiDocument;
    const ids = (await db.selectFrom('statement').select('id').execute()).map(({ id }) => id);
    let read = 0;
    for (const { method, path } of operationsOf(document)) {
      if (method !== 'GET') continue;
      const own = path.startsWith('/api/seasons') ? mill.seasonId : (ids[0] ?? '');
      const address = path
        .replace(/^\/api/, '')
        .replace('{kind}', 'lots')
        .replace('{month}', '2026-06');
      if ((await ask('GET', address.replaceAll(/\{\w+\}/g, own))) === 200) read += 1;
    }
    expect(read).toBeGreaterThan(35);
    const hashes = await db
      .selectFrom('account')
      .select('passwordHash')
      .where('passwordHash', 'is not', null)
      .execute();
    for (const { passwordHash } of hashes) secrets.push(passwordHash ?? '');
    expect(logged).toContain('"event":"request"');
    for (const one of [...secrets, ...(recoveryCodes as string[])]) {
      expect(logged.includes(one), `the log holds ${one}`).toBe(false);
      expect(answered.includes(one), `an answer holds ${one}`).toBe(false);
    }
  });
});
