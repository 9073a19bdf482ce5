import { expect, it } from 'vitest';
import { codeAt, fromBase32, stepAt } from '../../api/accounts/totp.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { account, appWithAccounts, GOOD_PASSWORD, signedIn, visitor } from '../support/accounts.ts';
import { describeOnEveryEngine } from '../support/engines.ts';

// oxlint-disable-next-line typescript/no-explicit-any
const bodyOf = (response: Response): Promise<any> => response.json();

describeOnEveryEngine('signing in', (open) => {
  const fresh = async () => {
    const { db } = await open();
    await ensureMill(db, 2026);
    return { db, ...appWithAccounts(db) };
  };

  it('is not asked for without accounts, asked for with them, and always where others can reach', async () => {
    const { db, app, make } = await fresh();
    const stranger = visitor(app);
    expect(await bodyOf(await stranger.send('GET', '/session'))).toEqual({
      actor: { accountId: null, name: 'Owner', role: 'owner', hasCodes: false },
      accountsInUse: false,
      closed: [],
    });
    expect((await stranger.send('GET', '/lots')).status).toBe(200);
    // Passed on by a proxy it may come from anywhere.
    expect(
      (await stranger.send('GET', '/lots', undefined, { 'x-forwarded-for': '203.0.113.7' })).status,
    ).toBe(401);
    const reached = visitor(make(true));
    expect((await reached.send('GET', '/lots')).status).toBe(401);
    expect(await bodyOf(await reached.send('GET', '/session'))).toEqual({
      actor: null,
      accountsInUse: true,
      closed: [],
    });

    // An account that nobody can come in with yet locks nobody out.
    const made = await bodyOf(await stranger.send('POST', '/accounts', { name: 'Ann', role: 'owner' }));
    expect((await stranger.send('GET', '/lots')).status).toBe(200);
    const token = made.setupPath.split('#')[1];
    expect(
      (await visitor(app).send('POST', '/session/set-up', { token, password: GOOD_PASSWORD })).status,
    ).toBe(200);
    const refused = await stranger.send('GET', '/lots');
    expect(refused.status).toBe(401);
    expect(await bodyOf(refused)).toMatchObject({ type: '/problems/not-signed-in' });
    const ann = await signedIn(app, 'ann');
    expect((await ann.send('GET', '/lots')).status).toBe(200);
    expect(await bodyOf(await ann.send('GET', '/session'))).toMatchObject({
      actor: { name: 'Ann', role: 'owner' },
      accountsInUse: true,
    });
    expect(JSON.stringify(await db.selectFrom('accountSession').selectAll().execute())).not.toContain(
      ann.cookie().split('=')[1],
    );
  });

  it('makes the first account the owner’s, and keeps one owner for ever', async () => {
    const { db, app } = await fresh();
    const first = await visitor(app).send('POST', '/accounts', { name: 'Bob', role: 'operator' });
    expect(first.status).toBe(422);
    expect((await bodyOf(first)).errors[0].pointer).toBe('/role');
    const id = await account(db, { name: 'Ann', role: 'owner' });
    const ann = await signedIn(app, 'Ann');
    for (const change of [
      { role: 'operator', disabled: false },
      { role: 'owner', disabled: true },
    ]) {
      const answer = await ann.send('PUT', `/accounts/${id}`, {
        name: 'Ann',
        counterpartyId: null,
        version: 1,
        ...change,
      });
      expect(answer.status).toBe(422);
      expect((await bodyOf(answer)).detail).toMatch(/Make another owner first/);
    }
    expect((await ann.send('GET', '/accounts')).status).toBe(200);
  });

  it('sets a cookie that scripts cannot read and other pages cannot send, on https only for that host', async () => {
    const { db, app } = await fresh();
    await account(db, { name: 'Ann', role: 'owner' });
    const plain = await app.request('/api/session', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ name: 'Ann', password: GOOD_PASSWORD }),
    });
    const cookie = plain.headers.get('set-cookie') ?? '';
    expect(cookie).toMatch(/^poursheet_session=[\w-]{43}; /);
    for (const part of ['HttpOnly', 'SameSite=Strict', 'Path=/', 'Max-Age=2592000'])
      expect(cookie).toContain(part);
    expect(cookie).not.toMatch(/Secure|Domain/);
  });

  it('tells a wrong name and a wrong password apart neither by the answer nor by the work', async () => {
    const { db, app, passwords } = await fresh();
    await account(db, { name: 'Ann', role: 'owner' });
    const answers = [];
    for (const name of ['Ann', 'Nobody']) {
      const before = passwords.worked();
      const answer = await visitor(app).send('POST', '/session', { name, password: 'wrong wrong wrong' });
      const { requestId: _id, ...body } = await bodyOf(answer);
      answers.push({ status: answer.status, body, worked: passwords.worked() - before });
      expect(answer.headers.has('set-cookie')).toBe(false);
    }
    expect(answers[0]).toEqual(answers[1]);
    expect(answers[0]).toMatchObject({ status: 401, worked: 1, body: { type: '/problems/sign-in-refused' } });
  });

  it('slows guessing down by account, at every process, also when many guess at once, and forgives after a success', async () => {
    const { db, app, make, pass, passwords } = await fresh();
    await account(db, { name: 'Ann', role: 'owner' });
    const guess = (where = app, name = 'Ann') =>
      visitor(where).send('POST', '/session', { name, password: 'wrong wrong wrong' });
    for (const name of ['Ann', 'Nobody']) {
      const before = passwords.worked();
      const other = make();
      const answers = await Promise.all(
        Array.from({ length: 12 }, (_, i) => guess(i % 2 === 0 ? app : other, name)),
      );
      const statuses = answers.map(({ status }) => status).toSorted((a, b) => a - b);
      expect(statuses).toEqual([...Array<number>(6).fill(401), ...Array<number>(6).fill(429)]);
      expect(passwords.worked() - before).toBe(6);
      const slowed = answers.find(({ status }) => status === 429);
      expect(slowed?.headers.get('retry-after')).toBe('30');
    }
    // The right password does not help while the wait runs, and does after it.
    const right = () => visitor(app).send('POST', '/session', { name: 'ANN', password: GOOD_PASSWORD });
    expect((await right()).status).toBe(429);
    pass(31);
    expect((await guess()).status).toBe(401);
    const longer = await guess();
    expect([longer.status, longer.headers.get('retry-after')]).toEqual([429, '60']);
    pass(61);
    expect((await right()).status).toBe(200);
    for (let tries = 0; tries < 5; tries += 1) expect((await guess()).status).toBe(401);
    expect((await right()).status).toBe(200);
  });

  it('closes an account after 100 failures one after the other, until it gets a new password', async () => {
    const { db, app, pass } = await fresh();
    await account(db, { name: 'Ann', role: 'owner' });
    const bob = await account(db, { name: 'Bob', role: 'operator' });
    const ann = await signedIn(app, 'Ann');
    for (let tries = 0; tries < 100; tries += 1) {
      expect((await visitor(app).send('POST', '/session', { name: 'Bob', password: 'wrong' })).status).toBe(
        401,
      );
      pass(3601);
    }
    const closed = await visitor(app).send('POST', '/session', { name: 'Bob', password: GOOD_PASSWORD });
    expect(closed.status).toBe(429);
    expect((await bodyOf(closed)).detail).toMatch(/must give this account a new password/);
    await visitor(app).send('POST', '/session', { name: 'Ann', password: GOOD_PASSWORD });
    const again = await signedIn(app, 'Ann');
    expect((await ann.send('GET', '/lots')).status).toBe(401);
    const { setupPath } = await bodyOf(await again.send('POST', `/accounts/${bob}/set-up-link`));
    const token = setupPath.split('#')[1];
    const password = 'granite under snow';
    expect((await visitor(app).send('POST', '/session/set-up', { token, password })).status).toBe(200);
    await signedIn(app, 'Bob', password);
  });

  it('slows guessing down by address over all names', async () => {
    const { db, app } = await fresh();
    await account(db, { name: 'Ann', role: 'owner' });
    const statuses: number[] = [];
    for (let tries = 0; tries < 32; tries += 1)
      statuses.push(
        (await visitor(app).send('POST', '/session', { name: `n${tries}`, password: 'x' })).status,
      );
    expect(statuses.filter((status) => status === 401)).toHaveLength(31);
    expect(statuses.at(-1)).toBe(429);
  });

  it('ends sessions after a day without use, after thirty days, on signing out, and when an account is closed', async () => {
    const { db, app, pass } = await fresh();
    const owner = await account(db, { name: 'Ann', role: 'owner' });
    const bobId = await account(db, { name: 'Bob', role: 'operator' });
    const idle = await signedIn(app, 'Ann');
    pass(23 * 3600);
    expect((await idle.send('GET', '/lots')).status).toBe(200);
    pass(23 * 3600);
    expect((await idle.send('GET', '/lots')).status).toBe(200);
    pass(24 * 3600 + 1);
    expect((await idle.send('GET', '/lots')).status).toBe(401);

    const long = await signedIn(app, 'Ann');
    for (let hours = 0; hours < 30 * 24; hours += 20) {
      expect((await long.send('GET', '/lots')).status).toBe(200);
      pass(20 * 3600);
    }
    expect((await long.send('GET', '/lots')).status).toBe(401);

    const leaving = await signedIn(app, 'Ann');
    const kept = leaving.cookie();
    expect((await leaving.send('DELETE', '/session')).status).toBe(204);
    expect(leaving.cookie()).toBe('');
    expect((await visitor(app, kept).send('GET', '/lots')).status).toBe(401);

    const ann = await signedIn(app, 'Ann');
    const bob = await signedIn(app, 'Bob');
    const change = { name: 'Bob', role: 'operator', counterpartyId: null, disabled: true, version: 1 };
    expect((await ann.send('PUT', `/accounts/${bobId}`, change)).status).toBe(200);
    expect((await bob.send('GET', '/lots')).status).toBe(401);
    expect(
      (await visitor(app).send('POST', '/session', { name: 'Bob', password: GOOD_PASSWORD })).status,
    ).toBe(401);
    expect((await ann.send('GET', `/accounts/${owner}/sessions`)).status).toBe(200);
  });

  it('lists sessions, ends them one by one, and never those of another account', async () => {
    const { db, app } = await fresh();
    await account(db, { name: 'Ann', role: 'owner' });
    const bobId = await account(db, { name: 'Bob', role: 'operator' });
    const ann = await signedIn(app, 'Ann');
    const here = await signedIn(app, 'Bob');
    const there = await signedIn(app, 'Bob');
    const [annsSession] = await bodyOf(await ann.send('GET', '/session/sessions'));
    expect(annsSession).toMatchObject({ isThisOne: true });
    expect((await here.send('DELETE', `/session/sessions/${annsSession.id}`)).status).toBe(404);
    const listed = await bodyOf(await here.send('GET', '/session/sessions'));
    expect(listed).toHaveLength(2);
    expect(JSON.stringify(listed)).not.toMatch(/hash|token/i);
    const other = listed.find((one: { isThisOne: boolean }) => !one.isThisOne);
    expect((await here.send('DELETE', `/session/sessions/${other.id}`)).status).toBe(204);
    expect((await there.send('GET', '/lots')).status).toBe(401);
    expect((await here.send('GET', '/lots')).status).toBe(200);
    expect(await bodyOf(await ann.send('GET', `/accounts/${bobId}/sessions`))).toHaveLength(1);
    expect((await ann.send('DELETE', `/accounts/${bobId}/sessions`)).status).toBe(204);
    expect((await here.send('GET', '/lots')).status).toBe(401);
  });

  it('ends the other sessions when the password changes, and asks for the present one', async () => {
    const { db, app } = await fresh();
    await account(db, { name: 'Ann', role: 'owner' });
    const here = await signedIn(app, 'Ann');
    const there = await signedIn(app, 'Ann');
    const password = 'granite under snow';
    const change = (current: string, next: string) =>
      here.send('PUT', '/session/password', { current, password: next });
    const wrong = await change('wrong wrong wrong', password);
    expect([wrong.status, (await bodyOf(wrong)).errors[0].pointer]).toEqual([401, '/current']);
    const weak = await change(GOOD_PASSWORD, 'annannannannann');
    expect([weak.status, (await bodyOf(weak)).errors[0].pointer]).toEqual([422, '/password']);
    expect((await change(GOOD_PASSWORD, password)).status).toBe(204);
    expect((await here.send('GET', '/lots')).status).toBe(200);
    expect((await there.send('GET', '/lots')).status).toBe(401);
    await signedIn(app, 'Ann', password);
    // Wrong tries from inside count too.
    const answers = [];
    for (let tries = 0; tries < 8; tries += 1) answers.push((await change('wrong', password)).status);
    expect(answers.slice(0, 6)).toEqual(Array<number>(6).fill(401));
    expect(answers.at(-1)).toBe(429);
  });

  it('opens a link to choose a password once, for a week, and only the newest', async () => {
    const { db, app, pass } = await fresh();
    await account(db, { name: 'Ann', role: 'owner' });
    const ann = await signedIn(app, 'Ann');
    const { account: bob, setupPath } = await bodyOf(
      await ann.send('POST', '/accounts', { name: 'Bob', role: 'operator' }),
    );
    expect(bob).toMatchObject({ name: 'Bob', role: 'operator', hasPassword: false, disabled: false });
    const first = setupPath.split('#')[1];
    const choose = (token: string, password: string) =>
      visitor(app).send('POST', '/session/set-up', { token, password });
    expect((await choose(first, 'short')).status).toBe(422);
    const renewed = await bodyOf(await ann.send('POST', `/accounts/${bob.id}/set-up-link`));
    const second = renewed.setupPath.split('#')[1];
    expect((await choose(first, GOOD_PASSWORD)).status).toBe(404);
    expect((await choose(second, GOOD_PASSWORD)).status).toBe(200);
    expect((await choose(second, GOOD_PASSWORD)).status).toBe(404);
    const inside = await signedIn(app, 'Bob');
    const third = (await bodyOf(await ann.send('POST', `/accounts/${bob.id}/set-up-link`))).setupPath.split(
      '#',
    )[1];
    expect((await inside.send('GET', '/lots')).status).toBe(200);
    pass(7 * 86_400 + 1);
    expect((await choose(third, GOOD_PASSWORD)).status).toBe(404);
    expect(JSON.stringify(await db.selectFrom('accountSetup').selectAll().execute())).not.toContain(third);
  });

  it('asks for a code where an account has them: each once, or a recovery code, each once', async () => {
    const { db, app, now, pass } = await fresh();
    await account(db, { name: 'Ann', role: 'owner' });
    const ann = await signedIn(app, 'Ann');
    expect((await ann.send('POST', '/session/codes', { password: 'wrong' })).status).toBe(401);
    const { secret, link } = await bodyOf(
      await ann.send('POST', '/session/codes', { password: GOOD_PASSWORD }),
    );
    expect(link).toContain(secret);
    const code = () => codeAt(fromBase32(secret), stepAt(now()));
    expect((await ann.send('PUT', '/session/codes', { code: '000000' })).status).toBe(422);
    const confirmed = await bodyOf(await ann.send('PUT', '/session/codes', { code: code() }));
    expect(confirmed.recoveryCodes).toHaveLength(10);

    const come = (typed: string) =>
      visitor(app).send('POST', '/session', { name: 'Ann', password: GOOD_PASSWORD, code: typed });
    const missing = await come('');
    expect([missing.status, (await bodyOf(missing)).type]).toEqual([401, '/problems/code-needed']);
    expect((await come(code())).status).toBe(401); // The confirming code is spent.
    pass(30);
    const spent = code();
    expect((await come(spent)).status).toBe(200);
    expect((await come(spent)).status).toBe(401);
    pass(60);
    const [recovery] = confirmed.recoveryCodes;
    expect((await come(recovery.toLowerCase().replaceAll('-', ' '))).status).toBe(200);
    expect((await come(recovery)).status).toBe(401);
    expect(await bodyOf(await ann.send('GET', '/session/codes'))).toEqual({
      inUse: true,
      recoveryCodesLeft: 9,
    });
    // The code is asked for only after the right password, so that it tells nothing.
    const guessed = await visitor(app).send('POST', '/session', {
      name: 'Ann',
      password: 'wrong wrong wrong',
    });
    expect((await bodyOf(guessed)).type).toBe('/problems/sign-in-refused');

    const kept = JSON.stringify(await db.selectFrom('accountRecoveryCode').selectAll().execute());
    for (const one of confirmed.recoveryCodes) expect(kept).not.toContain(one);
    const audited = JSON.stringify(await db.selectFrom('auditEntry').selectAll().execute());
    expect(audited).toContain('"tableName":"account"');
    for (const secretOne of [secret, ...confirmed.recoveryCodes, 'scrypt$'])
      expect(audited).not.toContain(secretOne);
    expect((await ann.send('POST', '/session/codes/stop', { password: GOOD_PASSWORD })).status).toBe(204);
    expect((await come('')).status).toBe(200);
  });

  it('takes a shorter password beside codes, and none shorter without', async () => {
    const { db, app, now } = await fresh();
    await account(db, { name: 'Ann', role: 'owner' });
    const ann = await signedIn(app, 'Ann');
    const { secret } = await bodyOf(await ann.send('POST', '/session/codes', { password: GOOD_PASSWORD }));
    const { recoveryCodes } = await bodyOf(
      await ann.send('PUT', '/session/codes', { code: codeAt(fromBase32(secret), stepAt(now())) }),
    );
    const short = 'tinheron';
    const changed = await ann.send('PUT', '/session/password', {
      current: GOOD_PASSWORD,
      password: short,
      code: recoveryCodes[0],
    });
    expect(changed.status).toBe(204);
    const stopped = await ann.send('POST', '/session/codes/stop', { password: short });
    expect([stopped.status, (await bodyOf(stopped)).detail]).toEqual([
      422,
      expect.stringMatching(/at least 15/),
    ]);
  });
});
