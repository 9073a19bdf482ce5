import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Hono } from 'hono';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createSite, PagesMissingError } from '../../api/site.ts';

const base = mkdtempSync(join(tmpdir(), 'poursheet-site-'));
const webRoot = join(base, 'web');
beforeAll(() => {
  mkdirSync(join(webRoot, 'assets'), { recursive: true });
  writeFileSync(join(webRoot, 'index.html'), '<title>front page</title>');
  writeFileSync(join(webRoot, 'assets', 'page-1a2b.js'), 'export {};');
  writeFileSync(join(base, 'secret.txt'), 'not for the page');
});
afterAll(() => {
  rmSync(base, { recursive: true, force: true });
});

function siteUnderTest(): Hono {
  const app = new Hono()
    .basePath('/api')
    .get('/lots', (c) => c.json([]))
    .post('/lots', async (c) => c.json({ length: (await c.req.text()).length }, 201));
  return createSite({ app, webRoot, now: () => 0 });
}
const ask = (path: string, init: RequestInit & { host?: string } = {}): Response | Promise<Response> =>
  siteUnderTest().request(`http://127.0.0.1:4270${path}`, {
    ...init,
    headers: { host: init.host ?? '127.0.0.1:4270', ...(init.headers as Record<string, string>) },
  });
const page = { headers: { accept: 'text/html,*/*' } };

describe('the pages', () => {
  it('are served with a content type, and built files may be kept for ever', async () => {
    const script = await ask('/assets/page-1a2b.js');
    expect(script.headers.get('content-type')).toContain('text/javascript');
    expect(script.headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
    const front = await ask('/', page);
    expect(await front.text()).toContain('front page');
    expect(front.headers.get('cache-control')).toBe('no-cache');
  });

  it('answer at every address of their own, also with a point in it, and not at those of files', async () => {
    expect(await (await ask('/lots/L-7.2', page)).text()).toContain('front page');
    expect((await ask('/assets/gone-3c4d.js', page)).status).toBe(404);
    expect((await ask('/favicon.ico', { headers: { accept: 'image/*' } })).status).toBe(404);
  });

  it('never come from outside their directory', async () => {
    for (const path of [
      '/../secret.txt',
      '/%2e%2e/secret.txt',
      '/..%2fsecret.txt',
      '/assets/..%5c..%5csecret.txt',
    ])
      expect(await (await ask(path)).text()).not.toContain('not for the page');
  });

  it('are missed when they have not been built', () => {
    expect(() => createSite({ app: new Hono(), webRoot: base, now: () => 0 })).toThrow(PagesMissingError);
  });
});

describe('the API', () => {
  it('answers, is not kept, and has no page at its unknown addresses', async () => {
    const lots = await ask('/api/lots');
    expect(await lots.json()).toEqual([]);
    expect(lots.headers.get('cache-control')).toBe('no-store');
    const nothing = await ask('/api/nothing', page);
    expect(nothing.status).toBe(404);
    expect(nothing.headers.get('content-type')).toBe('application/problem+json');
    const id = nothing.headers.get('x-request-id');
    expect(await nothing.json()).toMatchObject({ type: '/problems/not-found', requestId: id });
  });

  it('takes no body of more than 10 MiB', async () => {
    const body = 'x'.repeat(10 * 1024 * 1024);
    expect((await ask('/api/lots', { method: 'POST', body })).status).toBe(201);
    const refused = await ask('/api/lots', { method: 'POST', body: `${body}x` });
    expect(refused.status).toBe(413);
    expect(await refused.json()).toMatchObject({ type: '/problems/too-large' });
  });

  it('takes larger files to import, whose route has a limit of its own', async () => {
    const body = 'x'.repeat(11 * 1024 * 1024);
    expect((await ask('/api/imports/lots', { method: 'POST', body })).status).toBe(404);
  });
});

describe('the guard', () => {
  it('sends the headers that keep a page to itself', async () => {
    const { headers } = await ask('/', page);
    expect(headers.get('content-security-policy')).toMatch(
      /default-src 'none'; script-src 'self';.*frame-ancestors 'none'/,
    );
    expect(headers.get('content-security-policy')).not.toMatch(/unsafe/);
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('referrer-policy')).toBe('no-referrer');
    expect(headers.has('strict-transport-security')).toBe(false);
  });

  it.each(['127.0.0.1:4270', 'localhost:4270', 'localhost', '[::1]:4270', '127.0.1.1'])(
    'answers under the name %s',
    async (host) => {
      expect((await ask('/api/lots', { host })).status).toBe(200);
    },
  );

  it.each([
    'rebound.example:4270',
    '127.0.0.1.rebound.example',
    'localhost.rebound.example',
    '',
    '192.168.1.7:4270',
  ])('refuses the name %s, which may be a page elsewhere that points at this machine', async (host) => {
    const refused = await ask('/api/lots', { host });
    expect(refused.status).toBe(403);
    expect(await refused.json()).toMatchObject({ type: '/problems/forbidden' });
  });

  it('takes changes from its own pages and from programs without a page, not from pages elsewhere', async () => {
    const post = async (headers: Record<string, string>): Promise<number> =>
      (await ask('/api/lots', { method: 'POST', headers })).status;
    expect(await post({})).toBe(201);
    expect(await post({ origin: 'http://127.0.0.1:4270', 'sec-fetch-site': 'same-origin' })).toBe(201);
    expect(await post({ origin: 'https://elsewhere.example' })).toBe(403);
    expect(await post({ origin: 'http://127.0.0.1:8080' })).toBe(403);
    expect(await post({ origin: 'null' })).toBe(403);
    expect(await post({ 'sec-fetch-site': 'cross-site' })).toBe(403);
  });
});
