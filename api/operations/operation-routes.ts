import { sql } from 'kysely';
import { Hono, type Context, type MiddlewareHandler } from 'hono';
import { actorIfAny } from '../accounts/actor.ts';
import { knowActor } from '../accounts/gate.ts';
import { machineRoutes } from '../backups/at-this-machine.ts';
import type { Backups } from '../backups/backups.ts';
import { logError } from '../log.ts';
import { Problem } from '../problem.ts';
import type { Deps } from '../routes/describe.ts';
import type { Connections } from '../../db/engine/engine.ts';
import { EXPOSITION_TYPE } from './exposition.ts';
import type { Metrics } from './metrics.ts';

/** How long the database may take to answer before the program counts as not ready, in milliseconds. */
const READY_WAIT_MS = 3_000;

const loopback = /^(127(\.\d{1,3}){3}|::1)$/;

/** What whoever runs the program asks of it, beside the API. */
export function operationRoutes({
  deps,
  backups,
  secret,
  metrics,
  connections,
}: {
  deps: Deps;
  backups: Backups | undefined;
  /** What a command at this machine shows; see the lock of the data directory. */
  secret: string | undefined;
  metrics: Metrics;
  connections: () => Connections;
}): Hono {
  const routes = new Hono();
  routes.get('/health/live', (c) => plain(c, 'alive'));
  routes.get('/health/ready', async (c) => {
    await requireDatabase(deps);
    return plain(c, 'ready');
  });
  routes.get('/metrics', async (c) => {
    if (!isThisMachine(c)) await requireOwner(c, deps);
    const lastBackupAt = backups?.kept()[0]?.madeAt;
    const text = metrics.text({ connections: connections(), lastBackupAt });
    return c.body(text, 200, { 'content-type': EXPOSITION_TYPE, 'cache-control': 'no-store' });
  });
  routes.route('/', machineRoutes({ backups, secret }));
  return routes;
}

function plain(c: Context, word: string): Response {
  return c.text(`${word}\n`, 200, { 'cache-control': 'no-store' });
}

async function requireDatabase({ db }: Deps): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<'late'>((resolve) => {
    timer = setTimeout(() => resolve('late'), READY_WAIT_MS);
  });
  const asked = sql`select 1`.execute(db);
  // If it fails after the wait, nobody asks any more; the answer given then says that it was late.
  asked.catch((error: unknown) => logError('not-ready', { error }));
  try {
    if ((await Promise.race([asked, late])) === 'late')
      throw new Problem('unavailable', 'The database has not answered in time.', { retryAfterS: 5 });
  } finally {
    clearTimeout(timer);
  }
}

/** Asked at the machine itself, and not through a proxy on it. */
function isThisMachine(c: Context): boolean {
  const { incoming } = (c.env ?? {}) as { incoming?: { socket?: { remoteAddress?: string } } };
  const address = incoming?.socket?.remoteAddress?.replace(/^::ffff:/, '') ?? '';
  const passedOn = ['forwarded', 'x-forwarded-for', 'x-real-ip', 'via'].some((name) => c.req.header(name));
  return loopback.test(address) && !passedOn;
}

async function requireOwner(c: Parameters<MiddlewareHandler>[0], deps: Deps): Promise<void> {
  await knowActor(deps)(c, () => Promise.resolve());
  if (actorIfAny(c)?.role === 'owner') return;
  throw new Problem(
    'not-allowed',
    'What the program measures of itself is for this machine and for the owner of the mill.',
  );
}
