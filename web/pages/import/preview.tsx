import type { ImportPreview } from '../../../api/schemas/import.ts';
import { useFormat } from '../../lib/owner.ts';
import { takeFocus } from '../../lib/take-focus.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Facts } from '../../parts/facts.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Notice } from '../../parts/notice.tsx';
import { countWords, recordsText, rowsText, stateWords } from './import-words.ts';

function verdict({ problemCount, counts, kind }: ImportPreview): string {
  if (problemCount > 0) {
    const problems = problemCount === 1 ? 'One thing has' : `${problemCount} things have`;
    return `${problems} to be put right before this file can go in. Nothing was imported.`;
  }
  if (counts.rows === 0) return 'The file has no rows under its heading.';
  if (counts.new === 0) return `All ${rowsText(counts.rows)} are there already; there is nothing to import.`;
  return `Nothing is wrong with this file. ${recordsText(counts.new, kind)} would go in.`;
}

/** What importing would do: in one sentence, in numbers, with every problem, and the first rows as they were read. */
export function Preview(props: { preview: ImportPreview; onImport: () => void }) {
  const { preview, onImport } = props;
  const { counts } = preview;
  return (
    <section aria-label="Preview">
      <h2 ref={takeFocus} tabIndex={-1} className="takes-focus">
        What would happen
      </h2>
      <Lead>{verdict(preview)}</Lead>
      {preview.notes.map((note) => (
        <Notice key={note} level="note">
          {note}
        </Notice>
      ))}
      {preview.problemCount > 0 || counts.new === 0 ? null : (
        <p className="actions">
          <button type="button" className="primary" onClick={onImport}>
            Import {recordsText(counts.new, preview.kind)}
          </button>
        </p>
      )}
      <Problems preview={preview} />
      <FirstRows preview={preview} />
    </section>
  );
}

/** The rows counted by what becomes of them, and everything that is wrong, by line and column. */
export function Problems(props: { preview: ImportPreview }) {
  const { counts, problems, problemCount, fileName } = props.preview;
  const format = useFormat();
  return (
    <>
      <Facts
        facts={[
          { label: 'File', value: fileName },
          { label: 'Rows in all', value: format.number(counts.rows, 0) },
          ...(['new', 'unchanged', 'conflict', 'faulty'] as const).map((state) => ({
            label: countWords[state],
            value: format.number(counts[state], 0),
          })),
        ]}
      />
      {problemCount === 0 ? null : (
        <DataTable
          caption={
            problems.length < problemCount
              ? `What is wrong: the first ${problems.length} of ${problemCount}`
              : 'What is wrong'
          }
          narrow="stack"
          columns={[
            { key: 'row', label: 'Line', align: 'start' },
            { key: 'column', label: 'Column', align: 'start' },
            { key: 'value', label: 'Cell', align: 'start' },
            { key: 'message', label: 'What is wrong', align: 'start' },
          ]}
          rows={problems.map(({ row, column, value, message }) => ({
            cells: { row: `Line ${row}`, column: column ?? 'whole row', value: value ?? '', message },
          }))}
        />
      )}
    </>
  );
}

function FirstRows(props: { preview: ImportPreview }) {
  const { columns, rows, counts } = props.preview;
  if (rows.length === 0) return null;
  return (
    <DataTable
      caption={
        rows.length < counts.rows
          ? `The first ${rows.length} rows as they were read`
          : 'The rows as they were read'
      }
      columns={[
        { key: ' line', label: 'Line', align: 'start' },
        { key: ' state', label: 'What becomes of it', align: 'start' },
        ...columns.map((column) => ({ key: column, label: column, align: 'start' as const })),
      ]}
      rows={rows.map(({ row, state, values }) => ({
        key: String(row),
        cells: { ...values, ' line': `Line ${row}`, ' state': stateWords[state] },
      }))}
    />
  );
}
