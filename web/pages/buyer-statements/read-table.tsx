import { useState } from 'react';
import type { Settlement } from '../../../api/calc/settlement/statement.ts';
import type { ReadBuyerLines } from '../../../api/schemas/buyer-statement.ts';
import { ApiProblem } from '../../api.ts';
import type { Problem } from '../../api.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { ProblemNotice } from '../../parts/problem-notice.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { FileField } from '../import/file-field.tsx';
import { askReadLines } from './buyer-queries.ts';
import { csvOfPasted } from './pasted-table.ts';

const BY_WORDS = { label: 'same words', amount: 'same amount', words: 'words in common' } as const;

type State = { at: 'start' } | { at: 'read'; read: ReadBuyerLines } | { at: 'refused'; problem: Problem };

/** Their lines from a pasted or chosen table: looked at first, then put into the form. */
export function ReadTable(props: {
  statementId: string;
  ours: Settlement;
  onTake: (read: ReadBuyerLines) => void;
}) {
  const { statementId, ours, onTake } = props;
  const { decimalComma } = useOwner();
  const [pasted, setPasted] = useState('');
  const [fileName, setFileName] = useState<string | null>(null);
  const [state, setState] = useState<State>({ at: 'start' });
  const [failure, setFailure] = useState<Error | null>(null);
  if (failure !== null) throw failure;

  async function read(table: BodyInit): Promise<void> {
    try {
      setState({ at: 'read', read: await askReadLines(statementId, table) });
    } catch (error) {
      if (error instanceof ApiProblem) setState({ at: 'refused', problem: error.problem });
      else setFailure(error instanceof Error ? error : new Error(String(error)));
    }
  }

  return (
    <details className="folded">
      <summary>Take their lines from a table</summary>
      <p className="fieldset-hint">
        Columns label, quantity and amount, with their names in the first row; decimals after a{' '}
        {decimalComma ? 'comma' : 'point'}, as the settings have it. A row named total gives their total.
      </p>
      <div className="fields">
        <TextField
          label="Pasted table"
          lines={5}
          value={pasted}
          onChange={(text) => {
            setPasted(text);
            setState({ at: 'start' });
          }}
        />
        <FileField
          label="Or a file"
          hint="A table saved as CSV."
          chosen={fileName}
          onChoose={(file) => {
            setFileName(file.name);
            void read(file);
          }}
        />
      </div>
      <p className="actions">
        <button type="button" onClick={() => void read(csvOfPasted(pasted))}>
          Read the pasted table
        </button>
      </p>
      <div aria-live="polite">
        {state.at === 'refused' ? <ProblemNotice problem={state.problem} /> : null}
        {state.at === 'read' ? (
          <Reading
            read={state.read}
            ours={ours}
            onTake={() => {
              onTake(state.read);
              setState({ at: 'start' });
              setPasted('');
            }}
          />
        ) : null}
      </div>
    </details>
  );
}

function Reading(props: { read: ReadBuyerLines; ours: Settlement; onTake: () => void }) {
  const { read, ours, onTake } = props;
  const format = useFormat();
  if (read.problemCount > 0)
    return (
      <DataTable
        caption={`What is wrong with the table${read.problems.length < read.problemCount ? `: the first ${read.problems.length} of ${read.problemCount}` : ''}`}
        narrow="stack"
        columns={[
          { key: 'row', label: 'Line', align: 'start' },
          { key: 'column', label: 'Column', align: 'start' },
          { key: 'value', label: 'Cell', align: 'start' },
          { key: 'message', label: 'What is wrong', align: 'start' },
        ]}
        rows={read.problems.map(({ row, column, value, message }) => ({
          cells: { row: `Line ${row}`, column: column ?? 'whole row', value: value ?? '', message },
        }))}
      />
    );
  const labelOf = (id: string | null): string =>
    ours.lines.find((line) => line.id === id)?.label ?? 'none of ours';
  const matched = read.lines.filter(({ lineId }) => lineId !== null).length;
  return (
    <>
      <p>
        {read.lines.length === 1 ? 'One line' : `${read.lines.length} lines`} read, {matched} with a line of
        ours. Look over which answers to which; it can be changed afterwards.
        {read.leftOut.length === 0 ? '' : ` Left out, having no figure: ${read.leftOut.join(', ')}.`}
      </p>
      <DataTable
        caption="Their lines as they were read"
        narrow="stack"
        empty="There is no line with a figure."
        columns={[
          { key: 'label', label: 'Their line', align: 'start' },
          { key: 'quantity', label: 'Quantity', align: 'end' },
          { key: 'amount', label: `Amount, ${ours.currency}`, align: 'end' },
          { key: 'our', label: 'Our line', align: 'start' },
          { key: 'by', label: 'Found by', align: 'start' },
        ]}
        rows={read.lines.map(({ row, label, quantity, amount, lineId, by }) => ({
          key: String(row),
          cells: {
            label,
            quantity: quantity === null ? '' : format.money(quantity, ''),
            amount: amount === null ? '' : format.money(amount, ''),
            our: labelOf(lineId),
            by: by === null ? '' : BY_WORDS[by],
          },
        }))}
      />
      {read.lines.length === 0 ? null : (
        <p className="actions">
          <button type="button" onClick={onTake}>
            Put these lines in, in place of what is typed
          </button>
        </p>
      )}
    </>
  );
}
