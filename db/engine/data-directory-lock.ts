import { randomUUID } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { dirname, join } from 'node:path';
import { syncPath } from './durable-file-system.ts';
import { processStart } from './process-start.ts';

/** Who uses a data directory. */
interface Holder {
  token: string;
  pid: number;
  /** What `processStart` said of that pid. */
  processStart: string;
  host: string;
  /** RFC 3339, UTC. */
  since: string;
  /** Where its pages are; '' until it listens. */
  url: string;
  /** Known to whoever may read the file: a command at this machine shows by it that it may ask the holder. */
  secret: string;
}

export interface DataDirectoryLock {
  /** What a command at this machine has to know, see `Holder`. */
  secret: string;
  /** Tells later starts where the holder's pages are. */
  announce: (url: string) => void;
  release: () => void;
}

/** Thrown when another process holds the data directory. */
export class DataDirectoryInUseError extends Error {
  override name = 'DataDirectoryInUseError';
  /** Where the holder can be asked, and by what; undefined where it cannot. */
  readonly holder: { url: string; secret: string } | undefined;
  constructor(message: string, holder?: { url: string; secret: string }) {
    super(message);
    this.holder = holder;
  }
}

const LOCK = 'in-use';
const GONE = 'in-use.gone-';
const HOLDER_FILE = 'holder.json';
/** How long the lock of a process that ended is kept, in milliseconds: see `setAside`. */
const KEEP_GONE_MS = 24 * 3600 * 1000;
/** Other starters may come between a few times; more means that something else is wrong. */
const MOST_TRIES = 100;

/** Step by step: Node's own way of making a whole path never ends below a directory that takes none, such as /proc. */
function makeDirectory(path: string): void {
  if (statSync(path, { throwIfNoEntry: false })?.isDirectory() === true) return;
  if (dirname(path) !== path) makeDirectory(dirname(path));
  try {
    mkdirSync(path);
  } catch (error) {
    // Another start may have made it meanwhile.
    if (statSync(path, { throwIfNoEntry: false })?.isDirectory() !== true) throw error;
  }
}

/**
 * Takes a data directory for this process alone: two programs on one embedded database lose records.
 *
 * The lock is a directory that holds one file. It is made ready under another name and published by one
 * rename, which the file system refuses while a directory with content has that name; so it is never
 * seen half-written, and of two starters one gets it.
 */
export function lockDataDirectory(dataDir: string, now: Date): DataDirectoryLock {
  makeDirectory(dataDir);
  const own: Holder = {
    token: randomUUID(),
    pid: process.pid,
    processStart: processStart(process.pid) ?? '',
    host: hostname(),
    since: now.toISOString(),
    url: '',
    secret: randomUUID(),
  };
  const lock = join(dataDir, LOCK);
  for (let tries = 1; !publish(dataDir, own); tries += 1) {
    if (tries > MOST_TRIES)
      throw new DataDirectoryInUseError(
        `The data directory ${dataDir} could not be taken. If no Poursheet uses it, delete ${lock} and start again.`,
      );
    const holder = readHolder(lock);
    if (holder === 'none') continue; // released between the two steps
    if (holder !== 'unreadable' && mayStillRun(holder))
      throw new DataDirectoryInUseError(whoHolds(dataDir, holder), askable(holder));
    setAside(dataDir, holder === 'unreadable' ? `unreadable-${statSync(lock).mtimeMs}` : holder.token);
  }
  removeOldGone(dataDir, now);

  return {
    secret: own.secret,
    announce: (url) => writeHolder(lock, { ...own, url }),
    release: () => {
      const holder = readHolder(lock);
      if (typeof holder === 'string' || holder.token !== own.token) return;
      setAside(dataDir, own.token);
      rmSync(join(dataDir, GONE + own.token), { recursive: true, force: true });
    },
  };
}

function publish(dataDir: string, own: Holder): boolean {
  const ready = join(dataDir, `${LOCK}.ready-${own.token}`);
  mkdirSync(ready, { recursive: true });
  writeHolder(ready, own);
  if (renamed(ready, join(dataDir, LOCK))) return true;
  rmSync(ready, { recursive: true, force: true });
  return false;
}

/**
 * Moves the lock of a process that ended to a name of its own. Another starter that also found it ended,
 * but comes later, may meet the lock of a new holder here: its rename then fails, because the
 * name of the ended one is taken. That is why these stay for a day.
 */
function setAside(dataDir: string, token: string): void {
  renamed(join(dataDir, LOCK), join(dataDir, GONE + token));
}

/** False when the old name is gone or a directory with content has the new one. */
function renamed(from: string, to: string): boolean {
  try {
    renameSync(from, to);
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    const onWindows = process.platform === 'win32' && (code === 'EPERM' || code === 'EACCES');
    if (code === 'ENOTEMPTY' || code === 'EEXIST' || code === 'ENOENT' || onWindows) return false;
    throw error;
  }
}

function writeHolder(directory: string, holder: Holder): void {
  const file = join(directory, HOLDER_FILE);
  const making = `${file}.making`;
  writeFileSync(making, `${JSON.stringify(holder, null, 2)}\n`, { mode: 0o600 });
  syncPath(making);
  renameSync(making, file);
}

function readHolder(lock: string): Holder | 'none' | 'unreadable' {
  let text: string;
  try {
    text = readFileSync(join(lock, HOLDER_FILE), 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return 'none';
    throw error;
  }
  try {
    const { token, pid, processStart, host, since, url, secret } = JSON.parse(text) as Partial<Holder>;
    if (!token || !pid || processStart === undefined || host === undefined || since === undefined)
      return 'unreadable';
    return { token, pid, processStart, host, since, url: url ?? '', secret: secret ?? '' };
  } catch {
    return 'unreadable'; // a lock is complete before it is published: only a damaged disk leaves this
  }
}

function askable({ host, url, secret }: Holder): { url: string; secret: string } | undefined {
  return host === hostname() && url !== '' && secret !== '' ? { url, secret } : undefined;
}

/** Of another machine nothing can be known: its lock stands. */
function mayStillRun(holder: Holder): boolean {
  return holder.host !== hostname() || processStart(holder.pid) === holder.processStart;
}

function whoHolds(dataDir: string, holder: Holder): string {
  const where = holder.url === '' ? 'its page is not up yet' : `its page is ${holder.url}`;
  const elsewhere = holder.host !== hostname();
  return (
    `The data directory ${dataDir} is in use by another Poursheet: process ${holder.pid}` +
    `${elsewhere ? ` on the machine ${holder.host}` : ''}, since ${holder.since}, ${where}. ` +
    'Two at once would lose records. Use that one, or stop it first, or give another directory with --data.' +
    (elsewhere
      ? ` If it surely no longer runs on ${holder.host}, delete ${join(dataDir, LOCK)} and start again.`
      : '')
  );
}

function removeOldGone(dataDir: string, now: Date): void {
  for (const name of readdirSync(dataDir)) {
    if (!name.startsWith(GONE)) continue;
    const path = join(dataDir, name);
    if (now.getTime() - statSync(path).ctimeMs > KEEP_GONE_MS) rmSync(path, { recursive: true, force: true });
  }
}
