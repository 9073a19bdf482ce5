import { useState } from 'react';
import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf, editableText } from '../../lib/parse-decimal.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';

type BalanceFields = Pick<BalanceRecord, 'name' | 'readabilityG' | 'repeatabilityG'>;

const typed = (fields: BalanceFields, owner: OwnerChoices): BalanceFields => ({
  name: fields.name,
  readabilityG: editableText(fields.readabilityG, owner),
  repeatabilityG: editableText(fields.repeatabilityG, owner),
});

/** The balances that weigh samples and beads: how finely they read decides how sure a grade can be. */
export function Balances(props: { balances: readonly BalanceRecord[] }) {
  const { balances } = props;
  const owner = useOwner();
  return (
    <>
      <h2>Balances</h2>
      <DataTable
        caption="Balances"
        narrow="stack"
        empty="No balance yet. Enter the one on your bench: a test smelt names the balance that weighed it."
        columns={[
          { key: 'name', label: 'Balance', align: 'start' },
          { key: 'readability', label: 'Readability, g', align: 'end' },
          { key: 'repeatability', label: 'Repeatability, g', align: 'end' },
        ]}
        rows={balances.map((balance) => ({
          key: balance.id,
          cells: {
            name: balance.name,
            readability: balance.readabilityG,
            repeatability: balance.repeatabilityG,
          },
        }))}
      />
      {balances.map(({ id, version, ...fields }) => (
        <details key={id} className="record-form">
          <summary>Change {fields.name}</summary>
          <BalanceForm
            name={`balance/${id}`}
            initial={typed(fields, owner)}
            saveLabel="Save the balance"
            version={version}
            save={(json, of) =>
              send(api.balances[':id'].$put({ param: { id }, json: { ...json, version: of } }))
            }
          />
        </details>
      ))}
      <details className="record-form">
        <summary>Enter a balance</summary>
        <BalanceForm
          name="balance/new"
          initial={{ name: '', readabilityG: '', repeatabilityG: '' }}
          emptyAfter
          saveLabel="Enter this balance"
          save={(json) => send(api.balances.$post({ json }))}
        />
      </details>
    </>
  );
}

function BalanceForm(props: {
  name: string;
  initial: BalanceFields;
  /** Of the record that is changed; none for a new one. */
  version?: number;
  emptyAfter?: boolean;
  saveLabel: string;
  save: (fields: BalanceFields, version: number) => Promise<{ version: number }>;
}) {
  const { name, initial, version: found, emptyAfter, saveLabel, save } = props;
  const [version, setVersion] = useState(found ?? 0);
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const draft = useDraft(name, initial);
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        label={saveLabel}
        saveLabel={saveLabel}
        onSave={async () => {
          const saved = await save(
            {
              name: form.value.name,
              readabilityG: decimalOf(form.value.readabilityG, owner) ?? '',
              repeatabilityG: decimalOf(form.value.repeatabilityG, owner) ?? '0',
            },
            version,
          );
          setVersion(saved.version);
          draft.saved(emptyAfter === true ? initial : undefined);
          await booksChanged();
        }}
      >
        <Fieldset legend="Balance">
          <TextField label="Name" required maxLength={120} {...at(form, 'name')} />
          <NumberField
            label="Readability"
            required
            unit="g"
            min={0.000001}
            max={1000}
            decimals={8}
            hint="The smallest step of its display."
            {...at(form, 'readabilityG')}
          />
          <NumberField
            label="Repeatability"
            unit="g"
            max={1000}
            decimals={8}
            hint="The spread (standard deviation) when the same thing is weighed ten times; from its data sheet, or try it. Empty counts as none."
            {...at(form, 'repeatabilityG')}
          />
        </Fieldset>
      </Form>
    </>
  );
}
