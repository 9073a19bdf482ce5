import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import type { StatementDraft } from './statement-draft.ts';

/** Amounts that were agreed for this parcel and are not in the contract: demurrage, or what is allowed for taking it all the same. */
export function AgreedItemFields(props: { form: Binding<StatementDraft>; currency: string }) {
  const { form, currency } = props;
  return (
    <RowsField
      legend="Agreed for this parcel alone"
      hint="Demurrage, storage, or what the buyer is allowed for taking a parcel above a refusal level. Leave out where nothing was agreed."
      rows={{ ...at(form, 'items'), pointer: '/agreedItems' }}
      newRow={() => ({ name: '', amount: '', reason: '' })}
      rowName="agreed item"
      max={40}
    >
      {(item) => (
        <>
          <TextField label="Item" required maxLength={120} {...at(item, 'name')} />
          <NumberField
            label="Amount for the seller"
            unit={currency}
            required
            min={-1e9}
            hint="Below zero it is deducted."
            {...at(item, 'amount')}
          />
          <TextField
            label="Agreed how and when"
            required
            maxLength={200}
            hint="It prints on the statement."
            {...at(item, 'reason')}
          />
        </>
      )}
    </RowsField>
  );
}
