import { expect, it } from 'vitest';
import { setLogLevel } from '../../api/log.ts';
import { createSite } from '../../api/site.ts';
import { account, appWithAccounts, signedIn, visitor } from '../support/accounts.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';
import { issue, soldParcel } from '../support/settled-parcel.ts';
import { builtPages } from '../support/built-pages.ts';

// oxlint-disable-next-line typescript/no-explicit-any
const bodyOf = (response: Response): Promise<any> => response.json();

describeOnEveryEngine('a download link', (open) => {
  const fresh = async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    await issue(mill, (await soldParcel(mill)).entry, '2026-06-09');
    await account(db, { name: 'Ann', role: 'owner' });
    const instance = appWithAccounts(db);
    const ann = await signedIn(instance.app, 'Ann');
    let keys = 0;
    // With a key, as a program that tries again would send it: the answer, which holds the link, is not kept either.
    const make = async (what: string, days = 14) =>
      bodyOf(
        await ann.send(
          'POST',
          '/download-links',
          { what, seasonId: mill.seasonId, days, remarks: 'Books' },
          { 'idempotency-key': `"make ${(keys += 1)}"` },
        ),
      );
    return { db, ...instance, ann, make, seasonId: mill.seasonId };
  };
  const pathOf = ({ path }: { path: string }): string => path.replace(/^\/api/, '');

  it('gives whoever has it one file, the same as inside, and nothing else', async () => {
    const { db, app, ann, make, seasonId } = await fresh();
    const stranger = visitor(app);
    for (const [what, inside, type] of [
      ['accountant-csv', 'accountant.csv', 'text/csv; charset=utf-8'],
      ['statements-zip', 'statements.zip', 'application/zip'],
    ] as const) {
      const made = await make(what);
      const fetched = await stranger.send('GET', pathOf(made));
      expect([fetched.status, fetched.headers.get('content-type')]).toEqual([200, type]);
      expect(fetched.headers.get('cache-control')).toBe('no-store');
      const own = await ann.send('GET', `/seasons/${seasonId}/${inside}`);
      expect(Buffer.from(await fetched.arrayBuffer()).equals(Buffer.from(await own.arrayBuffer()))).toBe(
        true,
      );
      for (const table of ['downloadLink', 'idempotency', 'auditEntry'] as const)
        expect(JSON.stringify(await db.selectFrom(table).selectAll().execute()), table).not.toContain(
          made.path.split('/').at(-1),
        );
    }
    expect((await stranger.send('GET', `/seasons/${seasonId}/accountant.csv`)).status).toBe(401);
    expect(
      (await stranger.send('GET', '/downloads/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA')).status,
    ).toBe(404);
    expect((await stranger.send('GET', '/download-links')).status).toBe(401);
    const [newest, first] = await bodyOf(await ann.send('GET', '/download-links'));
    expect([newest.uses, first.uses, first.madeBy, first.remarks]).toEqual([1, 1, 'Ann', 'Books']);
  });

  it('ends by itself and when it is taken out of use, and stays in the list', async () => {
    const { app, ann, make, pass } = await fresh();
    const stranger = visitor(app);
    const short = await make('accountant-csv', 1);
    pass(1);
    const long = await make('accountant-csv', 90);
    pass(86_398);
    expect((await stranger.send('GET', pathOf(short))).status).toBe(200);
    pass(1);
    const ended = await stranger.send('GET', pathOf(short));
    expect([ended.status, (await bodyOf(ended)).detail]).toEqual([
      404,
      expect.stringContaining('does not hold any more'),
    ]);
    const again = await signedIn(app, 'Ann');
    expect((await stranger.send('GET', pathOf(long))).status).toBe(200);
    expect((await again.send('DELETE', `/download-links/${long.link.id}`)).status).toBe(204);
    expect((await stranger.send('GET', pathOf(long))).status).toBe(404);
    expect((await again.send('DELETE', `/download-links/${long.link.id}`)).status).toBe(204);
    const listed = await bodyOf(await again.send('GET', '/download-links'));
    expect(listed.map((one: { revokedAt: string | null }) => one.revokedAt !== null)).toEqual([true, false]);
    expect(ann.cookie()).not.toBe('');
    const tooLong = { what: 'accountant-csv', seasonId: long.link.seasonId, days: 91 };
    expect((await again.send('POST', '/download-links', tooLong)).status).toBe(422);
    expect(
      (await again.send('POST', '/download-links', { ...tooLong, days: 1, what: 'everything' })).status,
    ).toBe(422);
  });

  it('stands in no line of the log, and no password or cookie does', async () => {
    const { app, make } = await fresh();
    const site = createSite({ app, webRoot: builtPages(), now: () => 0 });
    const lines: string[] = [];
    const write = process.stderr.write.bind(process.stderr);
    process.stderr.write = (line: string | Uint8Array) => lines.push(String(line)) > 0;
    setLogLevel('debug');
    try {
      const { path } = await make('accountant-csv');
      const ask = (to: string, init: RequestInit = {}) =>
        site.request(`http://127.0.0.1${to}`, {
          ...init,
          headers: { host: '127.0.0.1', 'content-type': 'application/json' },
        });
      expect((await ask(path)).status).toBe(200);
      const body = JSON.stringify({ name: 'Ann', password: 'a wrong password here' });
      expect((await ask('/api/session', { method: 'POST', body })).status).toBe(401);
      const log = lines.join('');
      expect(log).toContain('/api/downloads/…');
      expect(log).not.toContain(path.split('/').at(-1));
      expect(log).not.toContain('a wrong password here');
      expect(log).not.toContain('poursheet_session=');
    } finally {
      setLogLevel('error');
      process.stderr.write = write;
    }
  });
});
