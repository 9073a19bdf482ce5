import { useState } from 'react';
import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { decimalOf, editableText } from '../../lib/parse-decimal.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';

export type BalanceFields = Pick<
  BalanceRecord,
  'name' | 'readabilityG' | 'repeatabilityG' | 'repeatabilityFrom'
>;

/** What a balance is: how finely it reads, how well it repeats, and where that is known from. */
export function BalanceForm(props: {
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
  const start = {
    ...initial,
    readabilityG: editableText(initial.readabilityG, owner),
    repeatabilityG: editableText(initial.repeatabilityG, owner),
  };
  const draft = useDraft(name, start);
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /balances"
        draft={draft}
        label={saveLabel}
        saveLabel={saveLabel}
        onSave={async () => {
          const saved = await save(
            {
              ...form.value,
              readabilityG: decimalOf(form.value.readabilityG, owner) ?? '',
              repeatabilityG: decimalOf(form.value.repeatabilityG, owner) ?? '0',
            },
            version,
          );
          setVersion(saved.version);
          draft.saved(emptyAfter === true ? start : undefined);
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
            label="Stated repeatability"
            unit="g"
            max={1000}
            decimals={8}
            hint="The spread (standard deviation) when the same thing is weighed ten times, by its data sheet. Empty counts as none."
            {...at(form, 'repeatabilityG')}
          />
          <ChoiceField
            label="Repeatability that counts"
            hint="Readings are entered as a check of the balance; until there are any, the stated one counts."
            choices={[
              { value: 'stated', label: 'the stated one' },
              { value: 'checks', label: 'that of my own repeat weighings' },
            ]}
            {...at(form, 'repeatabilityFrom')}
          />
        </Fieldset>
      </Form>
    </>
  );
}
