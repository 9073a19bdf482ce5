import { useState } from 'react';
import type { Season } from '../../../api/schemas/mill.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { TextField } from '../../parts/text-field.tsx';

type SeasonFields = Pick<Season, 'name' | 'startsOn' | 'endsOn'>;

/** The seasons in which lots are made, each with its form. */
export function Seasons(props: { seasons: readonly Season[] }) {
  const { seasons } = props;
  const format = useFormat();
  return (
    <>
      <h2>Seasons</h2>
      <DataTable
        caption="Seasons, newest first"
        narrow="stack"
        empty="No season yet. Open one below: every lot belongs to one."
        columns={[
          { key: 'name', label: 'Season', align: 'start' },
          { key: 'from', label: 'First day', align: 'start' },
          { key: 'to', label: 'Last day', align: 'start' },
        ]}
        rows={seasons.map((season) => ({
          key: season.id,
          cells: {
            name: season.name,
            from: format.date(season.startsOn),
            to: format.date(season.endsOn),
          },
        }))}
      />
      {seasons.map(({ id, version, ...fields }) => (
        <details key={id} className="record-form">
          <summary>Change season {fields.name}</summary>
          <SeasonForm
            name={`season/${id}`}
            initial={fields}
            saveLabel="Save the season"
            version={version}
            save={(json, of) =>
              send(api.seasons[':id'].$put({ param: { id }, json: { ...json, version: of } }))
            }
          />
        </details>
      ))}
      <details className="record-form">
        <summary>Open a season</summary>
        <SeasonForm
          name="season/new"
          initial={{ name: '', startsOn: '', endsOn: '' }}
          emptyAfter
          saveLabel="Open this season"
          save={(json) => send(api.seasons.$post({ json }))}
        />
      </details>
    </>
  );
}

function SeasonForm(props: {
  name: string;
  initial: SeasonFields;
  /** Of the record that is changed; none for a new one. */
  version?: number;
  /** For a form that enters one after the other. */
  emptyAfter?: boolean;
  saveLabel: string;
  save: (fields: SeasonFields, version: number) => Promise<{ version: number }>;
}) {
  const { name, initial, version: found, emptyAfter, saveLabel, save } = props;
  const [version, setVersion] = useState(found ?? 0);
  const booksChanged = useBooksChanged();
  const draft = useDraft(name, initial);
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /seasons"
        draft={draft}
        label={saveLabel}
        saveLabel={saveLabel}
        onSave={async () => {
          const saved = await save(form.value, version);
          setVersion(saved.version);
          draft.saved(emptyAfter === true ? initial : undefined);
          await booksChanged();
        }}
      >
        <Fieldset legend="Season">
          <TextField
            label="Name"
            required
            maxLength={120}
            hint="Reports print it after the word “Season”, so “2031” is enough."
            {...at(form, 'name')}
          />
          <DateField label="First day" required {...at(form, 'startsOn')} />
          <DateField
            label="Last day"
            required
            min={form.value.startsOn === '' ? undefined : form.value.startsOn}
            {...at(form, 'endsOn')}
          />
        </Fieldset>
      </Form>
    </>
  );
}
