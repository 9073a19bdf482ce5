import type { Context } from 'hono';
import { Problem } from '../problem.ts';

/** The bytes of a request that sends a table as it is. */
export async function bytesOf(c: Context): Promise<Uint8Array> {
  const mediaType = (c.req.header('content-type') ?? '').split(';')[0]?.trim().toLowerCase();
  if (mediaType !== 'text/csv') throw new Problem('media-type', 'The file must be sent as text/csv.');
  return new Uint8Array(await c.req.arrayBuffer());
}
