import { useState } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import type { SupplyCount } from '../../../api/schemas/supply-stock.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { decimalOf, editableText } from '../../lib/parse-decimal.ts';
import { countsQuery } from '../../lib/stock-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { amountText, perUnit } from './stock-words.ts';

type CountFields = Omit<SupplyCount, 'id' | 'version' | 'supplyName' | 'unit'>;

/** The counts of one supply, each to be put right or taken out, and a new one. */
export function CountsOfSupply(props: { supplyId: string; unit: SupplyCount['unit']; hasStock: boolean }) {
  const { supplyId, unit, hasStock } = props;
  const { data: counts } = useSuspenseQuery(countsQuery(supplyId));
  const format = useFormat();
  const booksChanged = useBooksChanged();
  return (
    <>
      <h2>Counts</h2>
      {counts.length === 0 ? <p>It was never counted.</p> : null}
      {counts.map(({ id, version, supplyName, unit: _unit, ...fields }) => (
        <details key={id} className="record-form">
          <summary>
            Change: {amountText(fields.quantity, unit, format)} on {format.date(fields.countedOn)}
          </summary>
          <CountForm
            name={`count/${id}`}
            initial={fields}
            unit={unit}
            version={version}
            first={fields.unitCost !== null}
            saveLabel="Save this count"
            save={(json, of) =>
              send(api['supply-counts'][':id'].$put({ param: { id }, json: { ...json, version: of } }))
            }
          />
          <ConfirmButton
            sends="DELETE /supply-counts/:id"
            label={`Remove the count of ${format.date(fields.countedOn)}`}
            question={`The count of ${supplyName} of ${format.date(fields.countedOn)} will be gone, with the difference that it found.`}
            confirmLabel="Remove it"
            onConfirm={async () => {
              await send(api['supply-counts'][':id'].$delete({ param: { id } }));
              await booksChanged();
            }}
          />
        </details>
      ))}
      <details className="record-form">
        <summary>Enter a count</summary>
        <CountForm
          name={`count/new ${supplyId}`}
          initial={{ supplyId, countedOn: todayHere(), quantity: '', unitCost: null, remarks: '' }}
          unit={unit}
          first={!hasStock}
          emptyAfter
          saveLabel="Enter this count"
          save={(json) => send(api['supply-counts'].$post({ json }))}
        />
      </details>
    </>
  );
}

function CountForm(props: {
  name: string;
  initial: CountFields;
  unit: SupplyCount['unit'];
  version?: number;
  /** Whether it may say what a unit cost: only the first count of a supply does. */
  first: boolean;
  emptyAfter?: boolean;
  saveLabel: string;
  save: (fields: CountFields, version: number) => Promise<{ version: number }>;
}) {
  const { name, initial, unit, version: found, first, emptyAfter, saveLabel, save } = props;
  const [version, setVersion] = useState(found ?? 0);
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const start = {
    ...initial,
    quantity: editableText(initial.quantity, owner),
    unitCost: editableText(initial.unitCost, owner),
  };
  const draft = useDraft(name, start);
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /supply-counts"
        // A change is of a version, which another change may have overtaken: only what is new waits.
        draft={found === undefined ? draft : undefined}
        label={saveLabel}
        saveLabel={saveLabel}
        onSave={async () => {
          const saved = await save(
            {
              ...form.value,
              quantity: decimalOf(form.value.quantity, owner) ?? '',
              unitCost: decimalOf(form.value.unitCost, owner),
            },
            version,
          );
          setVersion(saved.version);
          draft.saved(emptyAfter === true ? start : undefined);
          await booksChanged();
        }}
      >
        <Fieldset legend="Count">
          <DateField label="Counted at the end of" required max={todayHere()} {...at(form, 'countedOn')} />
          <NumberField
            label="What was there"
            required
            unit={unit === 'each' ? 'pieces' : unit}
            max={10_000_000}
            {...at(form, 'quantity')}
          />
          {first ? (
            <NumberField
              label="What one cost"
              unit={perUnit(owner.currency, unit)}
              max={1_000_000_000}
              decimals={8}
              hint="Only for a first count. Empty: the list price of the day."
              {...at(form, 'unitCost')}
            />
          ) : null}
          <TextField label="Remarks" lines={2} maxLength={2000} {...at(form, 'remarks')} />
        </Fieldset>
      </Form>
    </>
  );
}
