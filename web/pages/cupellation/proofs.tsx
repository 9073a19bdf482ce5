import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import type { Cupellation } from '../../../api/schemas/cupellation.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { numberOf } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';

/** Proof cupellations: pure metal of known mass, wrapped in lead and cupelled beside the assays. */
export function Proofs(props: { cupellation: Cupellation; balances: readonly BalanceRecord[] }) {
  const { cupellation, balances } = props;
  const format = useFormat();
  const booksChanged = useBooksChanged();
  return (
    <>
      <h2>Proofs</h2>
      <DataTable
        caption="Proofs, newest first"
        narrow="stack"
        empty="None yet. Weigh fine silver or gold of about a bead’s mass, cupel it with as much lead as a button, and weigh what is left; three or more tell."
        columns={[
          { key: 'on', label: 'Cupelled on', align: 'start' },
          { key: 'metal', label: 'Metal', align: 'start' },
          { key: 'taken', label: 'Taken, mg', align: 'end' },
          { key: 'found', label: 'Found, mg', align: 'end' },
          { key: 'loss', label: 'Lost', align: 'end' },
          { key: 'remove', label: 'Remove', align: 'start' },
        ]}
        rows={cupellation.proofs.toReversed().map((proof) => ({
          key: proof.id,
          cells: {
            on: format.date(proof.provedOn),
            metal: proof.metal === 'Au' ? 'gold' : 'silver',
            taken: String(proof.takenMg),
            found: String(proof.foundMg),
            loss: format.percent(1 - proof.foundMg / proof.takenMg, 2),
            remove: (
              <ConfirmButton
                sends="DELETE /cupellation/proofs/:id"
                label="Remove this proof"
                question={`The proof of ${format.date(proof.provedOn)} will be gone; tests that are corrected by proofs change with it.`}
                confirmLabel="Remove the proof"
                onConfirm={async () => {
                  await send(api.cupellation.proofs[':id'].$delete({ param: { id: proof.id } }));
                  await booksChanged();
                }}
              />
            ),
          },
          detail: [balances.find(({ id }) => id === proof.balanceId)?.name, proof.remarks]
            .filter((text) => text !== undefined && text !== '')
            .join('. '),
        }))}
      />
      <NewProof balances={balances} />
    </>
  );
}

interface ProofDraft {
  metal: 'Au' | 'Ag';
  provedOn: string;
  takenMg: string;
  foundMg: string;
  balanceId: string;
  remarks: string;
}

function NewProof(props: { balances: readonly BalanceRecord[] }) {
  const { balances } = props;
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const draft = useDraft<ProofDraft>('cupellation/proof', {
    metal: 'Ag',
    provedOn: todayHere(),
    takenMg: '',
    foundMg: '',
    balanceId: balances.length === 1 ? (balances[0]?.id ?? '') : '',
    remarks: '',
  });
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /cupellation/proofs"
        draft={draft}
        label="New proof"
        saveLabel="Enter this proof"
        onSave={async () => {
          const { takenMg, foundMg, ...rest } = form.value;
          await send(
            api.cupellation.proofs.$post({
              json: {
                ...rest,
                takenMg: numberOf(takenMg, owner) ?? 0,
                foundMg: numberOf(foundMg, owner) ?? 0,
              },
            }),
          );
          draft.saved({ ...form.value, takenMg: '', foundMg: '', remarks: '' });
          await booksChanged();
        }}
      >
        <Fieldset legend="New proof">
          <ChoiceField
            label="Metal"
            choices={[
              { value: 'Ag', label: 'fine silver' },
              { value: 'Au', label: 'fine gold' },
            ]}
            {...at(form, 'metal')}
          />
          <DateField label="Cupelled on" required {...at(form, 'provedOn')} />
          <NumberField label="Mass taken" unit="mg" required min={0.000001} {...at(form, 'takenMg')} />
          <NumberField label="Mass found" unit="mg" required {...at(form, 'foundMg')} />
          <ChoiceField
            label="Balance that weighed it"
            required
            choices={balances.map(({ id, name }) => ({ value: id, label: name }))}
            {...at(form, 'balanceId')}
          />
          <TextField label="Remarks" maxLength={2000} {...at(form, 'remarks')} />
        </Fieldset>
      </Form>
    </>
  );
}
