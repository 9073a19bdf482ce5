import { isFinal, problemOf, sendUnderKey } from '../api.ts';
import type { Problem } from '../api.ts';
import { sayBooksMoved } from './books-moved.ts';
import { pageStore } from './page-store.ts';
import { wasAnswered } from './sending-keys.ts';
import type { Sending } from './sending-keys.ts';

/** A saved form that did not reach the server and is sent when the connection is back. */
export interface WaitingEntry {
  /** What its button said, as a name for it: "Enter this lot". */
  label: string;
  /** The page it was typed on. */
  address: string;
  draftName: string;
  /** ISO time at which it was saved. */
  at: string;
  sending: Sending;
  /** What the server said against it; null while it waits. */
  refused: Problem | null;
}

export interface Waiting {
  entries: readonly WaitingEntry[];
  /** Names of what was sent since the page was opened and not yet acknowledged. */
  sent: readonly string[];
}

const NAME = 'poursheet waiting';
const TRY_AGAIN_MS = 10_000;

let state: Waiting = { entries: readEntries(), sent: [] };
const listeners = new Set<() => void>();
let timer: ReturnType<typeof setTimeout> | undefined;
let sending: Promise<void> | null = null;

function readEntries(): WaitingEntry[] {
  if (typeof window === 'undefined') return [];
  try {
    return JSON.parse(pageStore().getItem(NAME) ?? '[]') as WaitingEntry[];
  } catch {
    return [];
  }
}

function put(next: Partial<Waiting>): void {
  state = { ...state, ...next };
  if (next.entries !== undefined) {
    if (next.entries.length === 0) pageStore().removeItem(NAME);
    else pageStore().setItem(NAME, JSON.stringify(next.entries));
  }
  clearTimeout(timer);
  if (state.entries.some(({ refused }) => refused === null))
    timer = setTimeout(() => void sendWaiting(), TRY_AGAIN_MS);
  for (const listener of listeners) listener();
}

export const currentWaiting = (): Waiting => state;

export function onWaitingChange(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Puts a saved form among those that wait; one of the same form takes its place. */
export function waitForConnection(entry: Omit<WaitingEntry, 'refused'>): void {
  const others = state.entries.filter(({ draftName }) => draftName !== entry.draftName);
  put({ entries: [...others, { ...entry, refused: null }] });
}

/** Takes a form back: it is not sent any more, and what was typed stays in its draft. */
export function takeBack(draftName: string): void {
  put({ entries: state.entries.filter((entry) => entry.draftName !== draftName) });
}

export function acknowledgeSent(): void {
  put({ sent: [] });
}

/** Sends what waits, oldest first, until one gets no answer. */
export function sendWaiting(): Promise<void> {
  sending ??= sendAll().finally(() => (sending = null));
  return sending;
}

async function sendAll(): Promise<void> {
  for (const entry of state.entries) {
    if (entry.refused !== null) continue;
    let answer: Response;
    try {
      answer = await sendUnderKey(entry.sending);
    } catch {
      put({}); // still no connection: the next try is set
      return;
    }
    if (!isFinal(answer)) {
      put({});
      return;
    }
    wasAnswered(entry.sending, pageStore(), Date.now());
    const others = state.entries.filter(({ draftName }) => draftName !== entry.draftName);
    if (answer.ok) {
      pageStore().removeItem(entry.draftName);
      put({ entries: others, sent: [...state.sent, entry.label] });
      sayBooksMoved();
    } else {
      put({ entries: [...others, { ...entry, refused: await problemOf(answer) }] });
    }
  }
}

/** To be called once: sends what waits at the start, when the connection is back, and follows other tabs. */
export function startSendingWaiting(): void {
  window.addEventListener('online', () => void sendWaiting());
  window.addEventListener('storage', ({ key }) => {
    if (key === NAME) {
      state = { ...state, entries: readEntries() };
      for (const listener of listeners) listener();
    }
  });
  if (state.entries.length > 0) void sendWaiting();
}
