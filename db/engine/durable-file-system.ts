import { closeSync, fsyncSync, openSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { NodeFS } from '@electric-sql/pglite/nodefs';

/** WASI number of EIO, the answer PostgreSQL understands as "the disk did not take it". */
const WASI_EIO = 29;

interface OpenStream {
  nfd: number;
}
interface NodeFileSystem {
  stream_ops: { fsync?: (stream: OpenStream) => number };
}

/**
 * PGlite's Node file system gives PostgreSQL no fsync, so a committed row may still be in the
 * operating system's memory when the power fails. This one hands each fsync to the real file.
 */
export class DurableNodeFS extends NodeFS {
  override async init(...args: Parameters<NodeFS['init']>): ReturnType<NodeFS['init']> {
    const { emscriptenOpts } = await super.init(...args);
    const giveFsync = (module: { NODEFS: unknown }): void => {
      (module.NODEFS as NodeFileSystem).stream_ops.fsync = ({ nfd }) => {
        try {
          fsyncSync(nfd);
          return 0;
        } catch {
          return WASI_EIO; // PostgreSQL stops by itself rather than trust a log that was not written
        }
      };
    };
    return { emscriptenOpts: { ...emscriptenOpts, preRun: [...(emscriptenOpts.preRun ?? []), giveFsync] } };
  }
}

/** PGlite's own start parameters, with `-F` (fsync off) taken out and each commit synced by fsync. */
export const durableStartParams: string[] = [
  ...PGlite.defaultStartParams.filter((param) => param !== '-F'),
  '-c',
  'wal_sync_method=fsync',
];

/** Syncs a directory and everything below it, for files that were written before fsync was on. */
export function syncTree(path: string): void {
  for (const entry of readdirSync(path, { withFileTypes: true })) {
    const child = join(path, entry.name);
    if (entry.isDirectory()) syncTree(child);
    else if (entry.isFile()) syncPath(child);
  }
  syncPath(path);
}

/** Syncs one file, or the list of names of one directory. */
export function syncPath(path: string): void {
  const descriptor = openSync(path, 'r');
  try {
    fsyncSync(descriptor);
  } finally {
    closeSync(descriptor);
  }
}
