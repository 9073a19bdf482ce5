/** A request that changes the books, as it was put together once and may have to be sent again. */
export interface Sending {
  method: string;
  url: string;
  body: string;
  /** Under which the server does its work once, however often it arrives. */
  key: string;
}

type KeyStore = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;

const NAME = 'poursheet keys';
/** The server keeps its answers for as long. */
const KEPT_MS = 7 * 24 * 3600 * 1000;

type Keys = Record<string, { key: string; at: number }>;

/** `crypto.randomUUID` is not there for a page that comes over plain HTTP from another machine. */
export function newKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

function read(store: KeyStore, now: number): Keys {
  try {
    const kept = JSON.parse(store.getItem(NAME) ?? '{}') as Keys;
    return Object.fromEntries(Object.entries(kept).filter(([, { at }]) => now - at < KEPT_MS));
  } catch {
    return {};
  }
}

function write(store: KeyStore, keys: Keys): void {
  try {
    if (Object.keys(keys).length === 0) store.removeItem(NAME);
    else store.setItem(NAME, JSON.stringify(keys));
  } catch {
    // Where the browser keeps nothing, a retry from another tab gets a key of its own.
  }
}

/**
 * A request with its key: the one under which the same request was sent before and never answered, else a new one.
 * The store outlives the tab, so that a draft that is saved again goes under the key of the first try.
 */
export function keyedSending(request: Omit<Sending, 'key'>, store: KeyStore, now: number): Sending {
  const keys = read(store, now);
  const name = JSON.stringify([request.method, request.url, request.body]);
  const { key } = (keys[name] ??= { key: newKey(), at: now });
  write(store, keys);
  return { ...request, key };
}

/** An answer came: the same request is from now on another one. */
export function wasAnswered({ method, url, body }: Sending, store: KeyStore, now: number): void {
  const { [JSON.stringify([method, url, body])]: _answered, ...rest } = read(store, now);
  write(store, rest);
}
