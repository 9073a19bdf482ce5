import { useSyncExternalStore } from 'react';
import { timeText } from '../lib/format.ts';
import {
  acknowledgeSent,
  currentWaiting,
  onWaitingChange,
  sendWaiting,
  takeBack,
} from '../lib/waiting-entries.ts';
import type { Waiting } from '../lib/waiting-entries.ts';

export const useWaiting = (): Waiting =>
  useSyncExternalStore(onWaitingChange, currentWaiting, currentWaiting);

/** On every page: what waits for the connection, what was sent since, and what was refused. */
export function WaitingNote() {
  const { entries, sent } = useWaiting();
  const waiting = entries.filter(({ refused }) => refused === null);
  const refused = entries.filter((entry) => entry.refused !== null);
  return (
    <div className="waiting-note" role="status">
      {waiting.length === 0 ? null : (
        <div className="draft-note">
          <p>
            {waiting.length === 1
              ? '1 entry waits for the connection'
              : `${waiting.length} entries wait for the connection`}
            : {waiting.map(({ label, at }) => `${label}, ${timeText(new Date(at))}`).join('; ')}.
          </p>
          <button type="button" className="plain" onClick={() => void sendWaiting()}>
            Send now
          </button>
        </div>
      )}
      {sent.length === 0 ? null : (
        <div className="draft-note">
          <p>The connection is back. Saved: {sent.join('; ')}.</p>
          <button type="button" className="plain" onClick={acknowledgeSent}>
            Close this note
          </button>
        </div>
      )}
      {refused.map(({ draftName, label, address, refused: problem }) => (
        <div className="draft-note" key={draftName}>
          <p>
            “{label}” was sent when the connection was back and was not taken: {problem?.title}.{' '}
            {problem?.detail}{' '}
            <a href={address} onClick={() => takeBack(draftName)}>
              Open what was typed
            </a>
          </p>
        </div>
      ))}
    </div>
  );
}
