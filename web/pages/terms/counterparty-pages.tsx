import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate, useParams } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Page } from '../../parts/page.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { counterpartiesQuery } from './terms-queries.ts';

interface CounterpartyDraft {
  name: string;
  address: string;
  remarks: string;
}

export function NewCounterpartyPage() {
  return (
    <Page title="New counterparty">
      <CounterpartyForm
        formName="counterparty/new"
        initial={{ name: '', address: '', remarks: '' }}
        saveLabel="Enter this counterparty"
        save={(typed) => send(api.counterparties.$post({ json: typed }))}
      />
    </Page>
  );
}

export function EditCounterpartyPage() {
  const { counterpartyId } = useParams({ from: '/counterparties/$counterpartyId/edit' });
  const { data: counterparties } = useSuspenseQuery(counterpartiesQuery);
  const found = counterparties.find((one) => one.id === counterpartyId);
  if (found === undefined)
    return (
      <Page title="Not found">
        <p>
          There is no such counterparty. <Link to="/terms">To the terms</Link>
        </p>
      </Page>
    );
  const { id, version, name, address, remarks } = found;
  return (
    <Page title={`Change ${name}`}>
      <CounterpartyForm
        key={`${id} ${version}`}
        formName={`counterparty/${id}`}
        initial={{ name, address, remarks }}
        saveLabel="Save the counterparty"
        save={(typed) => send(api.counterparties[':id'].$put({ param: { id }, json: { ...typed, version } }))}
      />
    </Page>
  );
}

function CounterpartyForm(props: {
  formName: string;
  initial: CounterpartyDraft;
  saveLabel: string;
  save: (typed: CounterpartyDraft) => Promise<unknown>;
}) {
  const { formName, initial, saveLabel, save } = props;
  const draft = useDraft(formName, initial);
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /counterparties"
        draft={draft}
        saveLabel={saveLabel}
        onSave={async () => {
          await save(draft.form.value);
          draft.saved();
          await booksChanged();
          await navigate({ to: '/terms' });
        }}
      >
        <Fieldset legend="Counterparty" hint="A buyer, refiner or customer that terms are agreed with.">
          <TextField label="Name" required maxLength={120} {...at(draft.form, 'name')} />
          <TextField
            label="Address"
            lines={3}
            maxLength={500}
            hint="As it prints on statements."
            {...at(draft.form, 'address')}
          />
          <TextField label="Remarks" lines={3} maxLength={2000} {...at(draft.form, 'remarks')} />
        </Fieldset>
      </Form>
    </>
  );
}
