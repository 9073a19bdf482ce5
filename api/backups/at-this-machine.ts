import { createHash, timingSafeEqual } from 'node:crypto';
import { Hono } from 'hono';
import { Problem } from '../problem.ts';
import type { Backups } from './backups.ts';

/** Where a command at this machine asks the running program for a backup. */
export const MACHINE_BACKUPS = '/machine/backups';

/**
 * Makes a backup for whoever can read the data directory's lock, and says where it is: that person could copy the
 * directory as well.
 */
export function machineRoutes({
  backups,
  secret,
}: {
  backups: Backups | undefined;
  secret: string | undefined;
}): Hono {
  return new Hono().post(MACHINE_BACKUPS, async (c) => {
    const given = c.req.header('authorization')?.replace(/^Bearer /, '');
    if (secret === undefined || given === undefined || !same(given, secret))
      throw new Problem('not-signed-in', 'This is for commands at the machine that Poursheet runs on.');
    if (backups === undefined)
      throw new Problem('conflict', 'This Poursheet was started with --backups off and keeps no backups.');
    const { file, sizeBytes } = await backups.make();
    return c.json({ path: backups.pathOf(file), sizeBytes });
  });
}

function same(a: string, b: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(a), digest(b));
}
