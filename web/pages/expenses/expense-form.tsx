import { useState } from 'react';
import type { Expense } from '../../../api/schemas/expense.ts';
import { expenseKinds } from '../../../api/schemas/expense.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { decimalOf, editableText } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { expenseWords } from './expense-words.ts';

export type ExpenseFields = Omit<Expense, 'id' | 'version'>;

/** What was spent beside the batches, as the bill has it. */
export function ExpenseForm(props: {
  name: string;
  initial: ExpenseFields;
  version?: number;
  emptyAfter?: boolean;
  saveLabel: string;
  save: (fields: ExpenseFields, version: number) => Promise<{ version: number }>;
}) {
  const { name, initial, version: found, emptyAfter, saveLabel, save } = props;
  const [version, setVersion] = useState(found ?? 0);
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const start = {
    ...initial,
    amount: editableText(initial.amount, owner),
    paidOn: initial.paidOn ?? '',
  };
  const draft = useDraft(name, start);
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /expenses"
        // A change is of a version, which another change may have overtaken: only what is new waits.
        draft={found === undefined ? draft : undefined}
        label={saveLabel}
        saveLabel={saveLabel}
        onSave={async () => {
          const { amount, paidOn, ...fields } = form.value;
          const saved = await save(
            { ...fields, amount: decimalOf(amount, owner) ?? '', paidOn: paidOn === '' ? null : paidOn },
            version,
          );
          setVersion(saved.version);
          draft.saved(emptyAfter === true ? { ...start, spentOn: form.value.spentOn } : undefined);
          await booksChanged();
        }}
      >
        <Fieldset legend="Expense">
          <DateField label="Day" required max={todayHere()} {...at(form, 'spentOn')} />
          <ChoiceField
            label="For"
            required
            hint="Supplies are entered as purchases, not here: they go into stock."
            {...at(form, 'kind')}
            choices={expenseKinds.map((kind) => ({ value: kind, label: expenseWords[kind] }))}
          />
          <NumberField
            label="Amount"
            required
            unit={form.value.currency}
            min={-1_000_000_000}
            max={1_000_000_000}
            decimals={2}
            hint="Without tax that is paid back; below zero for money that came back."
            {...at(form, 'amount')}
          />
          <TextField
            label="Currency"
            required
            maxLength={3}
            hint="Three capitals (ISO 4217), such as USD."
            {...at(form, 'currency')}
          />
          <TextField label="Paid to" maxLength={120} {...at(form, 'payee')} />
          <TextField label="Number of the bill" maxLength={120} {...at(form, 'document')} />
          <DateField label="Paid on" hint="Empty while it is not paid." {...at(form, 'paidOn')} />
          <TextField label="Remarks" lines={2} maxLength={2000} {...at(form, 'remarks')} />
        </Fieldset>
      </Form>
    </>
  );
}
