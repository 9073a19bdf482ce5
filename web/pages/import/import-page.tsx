import { queryOptions, useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { importKinds } from '../../../api/schemas/import.ts';
import type { ImportKind, ImportProgress } from '../../../api/schemas/import.ts';
import { api, send } from '../../api.ts';
import { millQuery } from '../../lib/mill.ts';
import { useFormat } from '../../lib/owner.ts';
import { Busy } from '../../parts/busy.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { takeFocus } from '../../lib/take-focus.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { ProblemNotice } from '../../parts/problem-notice.tsx';
import { FileField } from './file-field.tsx';
import { dateOrderWords, kindWords, placeOf, recordsText, rowsText, stepWords } from './import-words.ts';
import { Preview, Problems } from './preview.tsx';
import { useImport } from './use-import.ts';

const importedFilesQuery = queryOptions({
  queryKey: ['imports'],
  queryFn: () => send(api.imports.$get()),
});

const isKind = (asked: string): asked is ImportKind => importKinds.some((kind) => kind === asked);

function workLabel(doing: 'preview' | 'import', progress: ImportProgress | null): string {
  if (progress === null) return doing === 'preview' ? 'Sending the file' : 'Importing';
  return stepWords[progress.step];
}

/** Many records at once from a table: looked at first, then all of it or nothing. */
export function ImportPage() {
  const { data: mill } = useSuspenseQuery(millQuery);
  const navigate = useNavigate();
  const asked = useAsked('kind');
  const kind = isKind(asked) ? asked : 'lots';
  const { state, file, choose, run, stop, reset } = useImport();
  const working = state.at === 'working';
  return (
    <Page title="Import">
      <Lead>
        A table of {kindWords[kind]} is read and looked at first. It goes in whole, or, when anything in it is
        wrong, not at all.
      </Lead>
      {/* What is being read or written is not to be swapped under way. */}
      <fieldset disabled={working}>
        <legend>The file</legend>
        <div className="fields">
          <ChoiceField
            label="What the file holds"
            value={kind}
            onChange={(next) => {
              reset();
              void navigate({ to: '/import', search: { kind: next }, replace: true, resetScroll: false });
            }}
            choices={importKinds.map((one) => ({ value: one, label: kindWords[one] }))}
          />
          <FileField
            label="File"
            hint={`A table saved as CSV; dates as ${dateOrderWords[mill.importDateOrder]}, decimals after a ${mill.decimalComma ? 'comma' : 'point'}, as the settings have it.`}
            chosen={file?.fileName ?? null}
            onChoose={(picked) => void choose(kind, picked)}
          />
        </div>
      </fieldset>
      <p>
        <a href={`/api/imports/templates/${kind}`}>A file to fill in ({kind}.csv)</a> has all columns and two
        invented rows to show how they are written. <Link to="/settings">Settings</Link> say how dates and
        decimals are written.
      </p>
      <div aria-live="polite">
        {working ? (
          <Busy
            label={workLabel(state.doing, state.progress)}
            {...(state.progress === null || state.progress.of === 0
              ? {}
              : { done: state.progress.done / state.progress.of })}
            onCancel={stop}
          />
        ) : null}
        {state.at === 'stopped' ? (
          <p ref={takeFocus} tabIndex={-1} className="takes-focus">
            {state.doing === 'preview'
              ? 'Stopped. Nothing was imported.'
              : 'Stopped. If it was too late to stop it, the file is listed under “Imported files”; otherwise nothing of it went in.'}
          </p>
        ) : null}
        {state.at === 'imported' ? (
          <div ref={takeFocus} tabIndex={-1} className="takes-focus">
            <Lead>
              {recordsText(state.file.rowsAdded, state.file.kind)} from {state.file.fileName} went in
              {state.file.rowsUnchanged === 0
                ? ''
                : `; what was there already is left alone (${rowsText(state.file.rowsUnchanged)})`}
              . <Link to={placeOf[state.file.kind]}>Look at them</Link>.
            </Lead>
          </div>
        ) : null}
      </div>
      {state.at === 'failed' ? <ProblemNotice problem={state.problem} /> : null}
      {state.at === 'refused' ? (
        <>
          <ProblemNotice problem={{ ...state.refusal, errors: [] }} />
          {state.refusal.preview === null ? null : <Problems preview={state.refusal.preview} />}
        </>
      ) : null}
      {state.at === 'previewed' ? <Preview preview={state.preview} onImport={() => void run()} /> : null}
      <ImportedFiles />
    </Page>
  );
}

function ImportedFiles() {
  const { data: files } = useSuspenseQuery(importedFilesQuery);
  const format = useFormat();
  return (
    <>
      <h2>Imported files</h2>
      <DataTable
        caption="Files that went in, newest first"
        narrow="stack"
        empty="No file was imported yet."
        columns={[
          { key: 'file', label: 'File', align: 'start' },
          { key: 'kind', label: 'What', align: 'start' },
          { key: 'when', label: 'When', align: 'start' },
          { key: 'added', label: 'Rows added', align: 'end' },
          { key: 'unchanged', label: 'Already there', align: 'end' },
        ]}
        rows={files.map((file) => ({
          key: file.id,
          cells: {
            file: file.fileName,
            kind: kindWords[file.kind],
            when: format.dateTime(new Date(file.importedAt)),
            added: format.number(file.rowsAdded, 0),
            unchanged: format.number(file.rowsUnchanged, 0),
          },
        }))}
      />
    </>
  );
}
