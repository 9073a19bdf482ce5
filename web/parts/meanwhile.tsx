import { useState } from 'react';
import type { DraftState, MeanwhileChoice } from '../lib/drafts.ts';
import { fieldWords, valueWords } from '../lib/changed-meanwhile.ts';
import { dateTimeText } from '../lib/format.ts';
import { DataTable } from './data-table.tsx';

/** What a choice is called in the form that stands below. */
function optionName(value: string): string | null {
  const option = document.querySelector(`option[value="${CSS.escape(value)}"]`);
  return option?.textContent ?? null;
}

/** What others changed while this form was open, beside what was typed; each can be taken or left. */
export function Meanwhile(props: { state: Extract<DraftState, { kind: 'restored' }> }) {
  const { meanwhile = [], changedBy = [] } = props.state;
  // The names of choices stand in the form, which is drawn after this table.
  const [drawn, setDrawn] = useState(false);
  if (meanwhile.length === 0) return null;
  const nameOf = (value: string): string | null => (drawn ? optionName(value) : null);
  const who = changedBy.map(({ actor, at }) => `${actor}, ${dateTimeText(new Date(at))}`).join('; ');
  return (
    <section ref={() => setDrawn(true)} className="meanwhile" aria-label="Changed meanwhile">
      <p>
        The record was changed{who === '' ? '' : ` by ${who}`} after you opened it. Nothing you typed is lost:
        fields that you had not touched are as they were left there; choose for the others, then save.
      </p>
      <DataTable
        caption="Changed meanwhile"
        narrow="stack"
        columns={[
          { key: 'field', label: 'Field', align: 'start' },
          { key: 'was', label: 'Was', align: 'start' },
          { key: 'theirs', label: 'Changed to', align: 'start' },
          { key: 'mine', label: 'In this form', align: 'start' },
          { key: 'choose', label: 'Choose', align: 'start' },
        ]}
        rows={meanwhile.map((choice) => ({
          key: choice.pointer,
          cells: {
            field: fieldWords(choice.pointer),
            was: valueWords(choice.was, nameOf),
            theirs: valueWords(choice.theirs, nameOf),
            mine: valueWords(choice.mine, nameOf),
            choose: <Choose choice={choice} />,
          },
        }))}
      />
    </section>
  );
}

function Choose(props: { choice: MeanwhileChoice }) {
  const { choice } = props;
  const { pointer, mine, theirs, takeTheirs, keepMine } = choice;
  const field = fieldWords(pointer);
  if (mine !== theirs)
    return (
      <button type="button" className="plain" aria-label={`Take theirs: ${field}`} onClick={takeTheirs}>
        Take theirs
      </button>
    );
  if (keepMine === null) return 'as changed';
  return (
    <button type="button" className="plain" aria-label={`Keep mine: ${field}`} onClick={keepMine}>
      Keep mine
    </button>
  );
}
