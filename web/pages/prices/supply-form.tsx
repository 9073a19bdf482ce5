import { useState } from 'react';
import { useNavigate } from '@tanstack/react-router';
import type { Supply } from '../../../api/schemas/supply.ts';
import { supplyKinds } from '../../../api/schemas/supply.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf, editableText, numberOf, shiftPoint } from '../../lib/parse-decimal.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { oneOfKind, unitWords } from './supply-words.ts';

type SupplyFields = Pick<Supply, 'name' | 'kind' | 'unit' | 'crucibleVolumeMl' | 'cupelLeadCapacityG'>;

/** As it is typed: a crucible in litres. */
type SupplyDraft = Pick<Supply, 'name' | 'kind' | 'unit'> & {
  crucibleVolumeMl: string;
  cupelLeadCapacityG: string;
};

/** What is sent; a size only with what has one. */
function fieldsOf(typed: SupplyDraft, owner: OwnerChoices): SupplyFields {
  const litres = typed.kind === 'crucible' ? decimalOf(typed.crucibleVolumeMl, owner) : null;
  return {
    name: typed.name,
    kind: typed.kind,
    unit: typed.unit,
    crucibleVolumeMl: litres === null ? null : Number(shiftPoint(litres, 3)),
    cupelLeadCapacityG: typed.kind === 'cupel' ? numberOf(typed.cupelLeadCapacityG, owner) : null,
  };
}

/** The fields of a supply, with the size of what has one. */
export function SupplyForm(props: {
  name: string;
  initial: SupplyFields;
  /** Of the supply that is changed; none for a new one. */
  version?: number;
  saveLabel: string;
  save: (fields: SupplyFields, version: number) => Promise<Supply>;
}) {
  const { name, initial, version: found, saveLabel, save } = props;
  const [version, setVersion] = useState(found ?? 0);
  const owner = useOwner();
  const litres = initial.crucibleVolumeMl === null ? null : shiftPoint(String(initial.crucibleVolumeMl), -3);
  const draft = useDraft<SupplyDraft>(name, {
    name: initial.name,
    kind: initial.kind,
    unit: initial.unit,
    crucibleVolumeMl: editableText(litres, owner),
    cupelLeadCapacityG: editableText(initial.cupelLeadCapacityG, owner),
  });
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /supplies"
        // A change is of a version, which another change may have overtaken: only what is new waits.
        draft={found === undefined ? draft : undefined}
        label="Supply"
        saveLabel={saveLabel}
        onSave={async () => {
          const supply = await save(fieldsOf(form.value, owner), version);
          setVersion(supply.version);
          draft.saved();
          await booksChanged();
          await navigate({ to: '/prices/supplies/$supplyId', params: { supplyId: supply.id } });
        }}
      >
        <Fieldset legend="Supply">
          <TextField label="Name" required maxLength={120} {...at(form, 'name')} />
          <ChoiceField
            label="What it is"
            required
            hint="Lead that is charged comes back in part; litharge counts as lead and as flux; iron and reagents are used up."
            {...at(form, 'kind')}
            choices={supplyKinds.map((kind) => ({ value: kind, label: oneOfKind[kind] }))}
          />
          <ChoiceField
            label="Bought by the"
            required
            hint="Whatever goes into a charge is bought by the kg, crucibles by the piece, labour by the hour."
            {...at(form, 'unit')}
            choices={(['kg', 'L', 'each', 'h'] as const).map((unit) => ({
              value: unit,
              label: unitWords[unit],
            }))}
          />
          {form.value.kind === 'crucible' ? (
            <NumberField
              label="Volume to the brim"
              unit="L"
              min={0.001}
              max={10_000}
              hint="Charge sheets hold the charge against it. Measure it with water, and dry it well."
              {...at(form, 'crucibleVolumeMl')}
            />
          ) : null}
          {form.value.kind === 'cupel' ? (
            <NumberField
              label="Lead that one can take up"
              unit="g"
              min={0.1}
              max={1_000_000}
              hint="A bone ash cupel takes up about its own weight."
              {...at(form, 'cupelLeadCapacityG')}
            />
          ) : null}
        </Fieldset>
      </Form>
    </>
  );
}
