import { useEffect, useRef } from 'react';
import type { DraftState } from '../lib/drafts.ts';
import { dateTimeText, timeText } from '../lib/format.ts';
import { Meanwhile } from './meanwhile.tsx';

function whenText(savedAt: Date): string {
  const today = new Date().toDateString() === savedAt.toDateString();
  return today ? timeText(savedAt) : dateTimeText(savedAt);
}

/** What became of an earlier draft of this form, with a way to drop it; what it is folded into is unfolded. */
export function DraftNote(props: { state: DraftState; discard: () => void }) {
  const { state, discard } = props;
  const restoredRef = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const folded = restoredRef.current?.closest('details');
    if (folded != null) folded.open = true;
  }, []);
  switch (state.kind) {
    case 'none':
      return null;
    case 'restored':
      return (
        <>
          <div className="draft-note" role="status" ref={restoredRef}>
            <p>
              Draft from {whenText(state.savedAt)} restored.
              {state.recordChanged ? ' The saved record has changed since; compare before saving.' : ''}
            </p>
            <button type="button" className="plain" onClick={discard}>
              Discard draft
            </button>
          </div>
          <Meanwhile state={state} />
        </>
      );
    case 'unreadable':
      return (
        <div className="draft-note" role="status">
          <p>An earlier draft of this form does not fit its fields any more and could not be restored.</p>
        </div>
      );
    case 'not-kept':
      return (
        <div className="draft-note" role="status">
          <p>This browser does not keep drafts. Save before closing the page.</p>
        </div>
      );
  }
}
