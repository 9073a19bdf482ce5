import { useSuspenseQuery } from '@tanstack/react-query';
import type { Batch } from '../../../api/schemas/batch.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { millQuery } from '../../lib/mill.ts';
import { useOwner } from '../../lib/owner.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { actualsDraftOf, actualsFromDraft, byRecipe } from './actuals-draft.ts';
import { statusWords } from './batch-words.ts';

/** What came of a batch: dates, hours, lead, what was used. Empty is 'not weighed' and is said to be missing. */
export function ActualsForm(props: {
  batch: Batch;
  supplies: readonly Supply[];
  treatment: Treatment | null;
}) {
  const { batch, supplies, treatment } = props;
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const draft = useDraft(`batch/${batch.id} actuals`, actualsDraftOf(batch, owner));
  const { form } = draft;
  const { weighingStepG } = useSuspenseQuery(millQuery).data;
  const recipe = treatment && byRecipe(batch, { treatment, supplies, weighingStepG }, owner);
  const usable = supplies.filter((supply) => supply.kind !== 'lead' && supply.kind !== 'labour');
  const unitOf = (supplyId: string): string => supplies.find((supply) => supply.id === supplyId)?.unit ?? '';

  async function save(): Promise<void> {
    await send(
      api.batches[':id'].$put({
        param: { id: batch.id },
        json: { ...actualsFromDraft(form.value, owner), version: batch.version },
      }),
    );
    draft.saved();
    await booksChanged();
  }

  return (
    <>
      <h2>What came of it</h2>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /batches/:id"
        draft={draft}
        saveLabel="Save what came of it"
        onSave={save}
        buttons={
          recipe === null ? null : (
            <button type="button" onClick={() => form.update((typed) => ({ ...typed, ...recipe }))}>
              Fill in by the recipe
            </button>
          )
        }
      >
        <Fieldset legend="Course">
          <ChoiceField
            label="Status"
            {...at(form, 'status')}
            choices={(['planned', 'running', 'done', 'cancelled'] as const).map((status) => ({
              value: status,
              label: statusWords[status],
            }))}
          />
          <DateField label="Started on" {...at(form, 'startedOn')} />
          <DateField
            label="Finished on"
            hint="Costs take the prices of this day."
            {...at(form, 'finishedOn')}
          />
          {treatment === null ? null : (
            <>
              <NumberField label="Furnace hours" unit="h" {...at(form, 'furnaceHours')} />
              <NumberField label="Labour hours" unit="h" {...at(form, 'labourHours')} />
              <QuantityField
                label="Lead charged"
                quantity="lotMassKg"
                hint="Metal; litharge is entered below."
                {...at(form, 'leadInKg')}
              />
              <QuantityField label="Lead back" quantity="lotMassKg" {...at(form, 'leadBackKg')} />
            </>
          )}
        </Fieldset>
        <RowsField
          legend="Used"
          hint="Reagents, litharge, fuel, crucibles: what was really used, not what was planned."
          rowName="supply"
          rows={at(form, 'consumption')}
          newRow={() => ({ supplyId: '', quantity: '' })}
          max={60}
        >
          {(row) => (
            <>
              <ChoiceField
                label="Supply"
                required
                {...at(row, 'supplyId')}
                choices={usable.map((supply) => ({ value: supply.id, label: supply.name }))}
              />
              <NumberField
                label="Quantity"
                required
                unit={unitOf(row.value.supplyId) === 'each' ? 'pieces' : unitOf(row.value.supplyId)}
                {...at(row, 'quantity')}
              />
            </>
          )}
        </RowsField>
        <Fieldset legend="Remarks">
          <TextField label="Remarks" lines={3} maxLength={2000} {...at(form, 'remarks')} />
        </Fieldset>
      </Form>
    </>
  );
}
