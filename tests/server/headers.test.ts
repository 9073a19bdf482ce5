import { expect, it } from 'vitest';
import type { Hono } from 'hono';
import { createApp } from '../../api/app.ts';
import { createSite } from '../../api/site.ts';
import { account, appWithAccounts, GOOD_PASSWORD } from '../support/accounts.ts';
import { builtPages } from '../support/built-pages.ts';
import { describeOnEmbedded } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';
import { issue, soldParcel } from '../support/settled-parcel.ts';

const page = { accept: 'text/html' };
const json = { 'content-type': 'application/json' };

describeOnEmbedded('the headers of an answer', (open) => {
  const served = async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const statement = await issue(mill, (await soldParcel(mill)).entry, '2026-06-09');
    const app = createApp({ db, now: () => new Date('2026-09-01T12:00:00Z') });
    return { db, mill, statement, site: createSite({ app, webRoot: builtPages(), now: () => 0 }) };
  };
  const ask = (site: Hono, to: string, init: RequestInit = {}, host = '127.0.0.1:4270') =>
    site.request(`http://${host}${to}`, { ...init, headers: { host, ...(init.headers as object) } });

  it('keep every kind of answer to its own page, unread by others and of the kind it says', async () => {
    const { site, mill, statement } = await served();
    const season = `/api/seasons/${mill.seasonId}`;
    const link = (await (
      await ask(site, '/api/download-links', {
        method: 'POST',
        headers: json,
        body: JSON.stringify({ what: 'accountant-csv', seasonId: mill.seasonId, days: 1 }),
      })
    ).json()) as { path: string };
    const answers: [kind: string, status: number, type: RegExp | null, answer: Response][] = [
      ['page', 200, /^text\/html/, await ask(site, '/', { headers: page })],
      ['page of an address', 200, /^text\/html/, await ask(site, '/lots/x', { headers: page })],
      ['script', 200, /^text\/javascript/, await ask(site, '/assets/page-1a2b.js')],
      ['nothing', 404, /^application\/problem\+json$/, await ask(site, '/assets/gone.js')],
      ['json', 200, /^application\/json/, await ask(site, '/api/lots')],
      ['document', 200, /^application\/json/, await ask(site, '/api/openapi.json')],
      [
        'no record',
        404,
        /^application\/problem\+json$/,
        await ask(site, `${season.replace(/.$/, 'x')}/summary`),
      ],
      ['no content', 204, null, await ask(site, '/api/session', { method: 'DELETE' })],
      ['pdf', 200, /^application\/pdf$/, await ask(site, `/api/statements/${statement.id}/statement.pdf`)],
      ['csv', 200, /^text\/csv/, await ask(site, `${season}/accountant.csv`)],
      ['zip', 200, /^application\/zip$/, await ask(site, `${season}/statements.zip`)],
      ['by link', 200, /^text\/csv/, await ask(site, link.path)],
      [
        'lines',
        200,
        /^application\/x-ndjson/,
        await ask(site, '/api/imports/lots/preview?fileName=x.csv', {
          method: 'POST',
          headers: { 'content-type': 'text/csv' },
          body: 'a',
        }),
      ],
      [
        'bad body',
        422,
        /problem/,
        await ask(site, '/api/lots', { method: 'POST', headers: json, body: '{}' }),
      ],
      [
        'malformed',
        400,
        /problem/,
        await ask(site, '/api/lots', { method: 'POST', headers: json, body: '{' }),
      ],
      ['elsewhere', 403, /problem/, await ask(site, '/api/lots', {}, 'rebound.example')],
      ['not signed in', 401, /problem/, await ask(site, '/api/lots', { headers: { via: 'a proxy' } })],
    ];
    for (const [kind, status, type, { status: found, headers }] of answers) {
      expect([kind, found]).toEqual([kind, kind === 'no record' ? 422 : status]);
      const said = (name: string): string => headers.get(name) ?? '';
      if (type !== null) expect(said('content-type'), kind).toMatch(type);
      expect(said('content-security-policy'), kind).toMatch(
        /^default-src 'none'; script-src 'self';.*form-action 'self'; base-uri 'none'; frame-ancestors 'none'$/,
      );
      expect(said('content-security-policy'), kind).not.toMatch(/unsafe|\*|https?:/);
      expect(said('x-frame-options'), kind).toBe('DENY');
      expect(said('x-content-type-options'), kind).toBe('nosniff');
      expect(said('referrer-policy'), kind).toBe('no-referrer');
      expect(said('cross-origin-resource-policy'), kind).toBe('same-origin');
      expect(said('cross-origin-opener-policy'), kind).toBe('same-origin');
      expect(headers.has('access-control-allow-origin'), kind).toBe(false);
      expect(headers.has('x-powered-by'), kind).toBe(false);
      expect(headers.has('strict-transport-security'), kind).toBe(false);
      // The accountant's figures stay in no cache on the way.
      if (!['page', 'page of an address', 'script', 'nothing', 'elsewhere'].includes(kind))
        expect(said('cache-control'), kind).toBe('no-store');
      if (['csv', 'zip', 'by link'].includes(kind))
        expect(said('content-disposition'), kind).toMatch(/^attachment; /);
    }
  });

  it('bind a session to https where the address is, and ask browsers to keep to it', async () => {
    const { db } = await served();
    await account(db, { name: 'Ann', role: 'owner' });
    const { make } = appWithAccounts(db);
    const site = createSite({
      app: make(true),
      webRoot: builtPages(),
      now: () => 0,
      origins: ['https://mill.example', 'http://192.168.1.20:4270'],
    });
    const signIn = (host: string, origin: string) =>
      ask(
        site,
        '/api/session',
        {
          method: 'POST',
          headers: { ...json, origin },
          body: JSON.stringify({ name: 'Ann', password: GOOD_PASSWORD }),
        },
        host,
      );
    const secure = await signIn('mill.example', 'https://mill.example');
    expect(secure.status).toBe(200);
    expect(secure.headers.get('set-cookie')).toMatch(/^__Host-poursheet_session=[\w-]{43}; .*Secure/);
    expect(secure.headers.get('strict-transport-security')).toBe('max-age=15552000');
    const plain = await signIn('192.168.1.20:4270', 'http://192.168.1.20:4270');
    expect(plain.headers.get('set-cookie')).toMatch(/^poursheet_session=/);
    expect(plain.headers.get('set-cookie')).not.toContain('Secure');
    expect(plain.headers.has('strict-transport-security')).toBe(false);

    // Changes only from pages of the same address, also between the addresses of the mill.
    expect((await signIn('mill.example', 'http://mill.example')).status).toBe(403);
    expect((await signIn('mill.example', 'http://192.168.1.20:4270')).status).toBe(403);
    expect((await signIn('192.168.1.20:4270', 'http://192.168.1.20:8080')).status).toBe(403);
    for (const host of [
      'mill.example:8443',
      'evil-mill.example',
      'mill.example.rebound.example',
      '192.168.1.20',
      '0.0.0.0:4270',
    ])
      expect((await ask(site, '/api/session', {}, host)).status, host).toBe(403);
    for (const host of ['mill.example:443', 'MILL.example', '127.0.0.1:4270', 'localhost:4270'])
      expect((await ask(site, '/api/session', {}, host)).status, host).toBe(200);
    expect((await ask(site, '/api/lots', {}, '127.0.0.1:4270')).status).toBe(401);
  });
});
