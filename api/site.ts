import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { serveStatic } from '@hono/node-server/serve-static';
import { Hono, type Context, type Env, type MiddlewareHandler, type Schema } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { except } from 'hono/combine';
import { requestId, type RequestIdVariables } from 'hono/request-id';
import { secureHeaders } from 'hono/secure-headers';
import { guardOrigins } from './accounts/origins.ts';
import { log, pathForLog } from './log.ts';
import type { Metrics } from './operations/metrics.ts';
import { onError, onNotFound } from './on-error.ts';

const LARGEST_BODY_BYTES = 10 * 1024 * 1024;

/** Thrown when the pages have not been built. */
export class PagesMissingError extends Error {
  override name = 'PagesMissingError';
}

/** The API together with the built pages and what guards both. `now` gives milliseconds, `origins` under which
 * addresses it is reached beside those of this machine. */
export function createSite<S extends Schema, P extends string>({
  app,
  webRoot,
  now,
  origins = [],
  operations = new Hono(),
  metrics,
}: {
  app: Hono<Env, S, P>;
  webRoot: string;
  now: () => number;
  origins?: readonly string[];
  /** What whoever runs the program asks of it. */
  operations?: Hono;
  metrics?: Metrics;
}): Hono {
  if (!existsSync(join(webRoot, 'index.html')))
    throw new PagesMissingError(
      `The pages are not built: ${webRoot} holds no index.html. Run "npm run build" first.`,
    );

  const site = new Hono();
  if (metrics !== undefined) site.use(metrics.measure);
  site.use(requestId(), logRequest(now), headers(), guardOrigins(origins));
  // Files to import have a limit of their own.
  site.use('/api/*', except('/api/imports/*', bodyLimit({ maxSize: LARGEST_BODY_BYTES })));
  site.use('/api/*', async (c, next) => {
    await next();
    if (!c.res.headers.has('cache-control')) c.res.headers.set('cache-control', 'no-store');
  });
  site.route('/', app);
  site.route('/', operations);

  const files = serveStatic({ root: webRoot });
  const frontPage = serveStatic({ root: webRoot, path: 'index.html' });
  site.get('*', async (c, next) => {
    if (isApi(c)) return next();
    // Built files carry a hash of their content in their name, so that a name never changes its content.
    const hashed = c.req.path.startsWith('/assets/');
    const found = await files(c, async () => {});
    if (found instanceof Response) {
      found.headers.set('cache-control', hashed ? 'public, max-age=31536000, immutable' : 'no-cache');
      return found;
    }
    const wantsPage = c.req.header('accept')?.includes('text/html') === true;
    if (hashed || !wantsPage) return next();
    // Any other address belongs to the page, which knows its own addresses.
    const page = await frontPage(c, async () => {});
    if (page instanceof Response) page.headers.set('cache-control', 'no-cache');
    return page;
  });
  site.notFound(onNotFound);
  site.onError(onError);
  return site;
}

function isApi(c: Context): boolean {
  return c.req.path === '/api' || c.req.path.startsWith('/api/');
}

function logRequest(now: () => number): MiddlewareHandler<{ Variables: RequestIdVariables }> {
  return async (c, next) => {
    const begun = now();
    await next();
    log('debug', 'request', {
      requestId: c.get('requestId'),
      method: c.req.method,
      path: pathForLog(c.req.path),
      status: c.res.status,
      tookMs: Math.round(now() - begun),
    });
  };
}

function headers(): MiddlewareHandler {
  return secureHeaders({
    contentSecurityPolicy: {
      defaultSrc: ["'none'"],
      scriptSrc: ["'self'"],
      styleSrc: ["'self'"],
      fontSrc: ["'self'"],
      imgSrc: ["'self'", 'data:', 'blob:'],
      connectSrc: ["'self'"],
      workerSrc: ["'self'"],
      manifestSrc: ["'self'"],
      formAction: ["'self'"],
      baseUri: ["'none'"],
      frameAncestors: ["'none'"],
    },
    xFrameOptions: 'DENY',
    // On this machine alone there is no TLS, and a promise of it would lock the page out; see guardOrigins.
    strictTransportSecurity: false,
  });
}
