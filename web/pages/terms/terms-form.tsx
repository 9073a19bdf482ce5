import { useMemo, useState } from 'react';
import { useNavigate } from '@tanstack/react-router';
import { useSuspenseQuery } from '@tanstack/react-query';
import { api, ApiProblem, send } from '../../api.ts';
import { checkTerms } from '../../../api/calc/terms/check-terms.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import type { TermsRecord } from '../../../api/schemas/terms-record.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { ContractFields } from './contract-fields.tsx';
import { draftOfTerms } from './draft-of-terms.ts';
import { figureWriter } from '../../lib/typed-figures.ts';
import { ReadingContext } from './reading.tsx';
import { TermsUpload } from './terms-file.tsx';
import { TrySample } from './try-sample.tsx';
import type { TermsDraft } from './terms-draft.ts';
import { termsOfDraft } from './terms-of-draft.ts';
import { counterpartiesQuery } from './terms-queries.ts';

/** The choice that stands for a counterparty that is entered along with its terms. */
const newOne = 'new';

/** A contract and what the books know of it, as typed. Named as what is sent. */
export interface RecordDraft {
  counterpartyId: string;
  counterparty: { name: string; address: string };
  name: string;
  validFrom: string;
  validTo: string;
  body: TermsDraft;
}

export interface SentTerms {
  counterpartyId: string;
  name: string;
  validFrom: string;
  validTo: string | null;
  body: Terms;
}

/** Enters a counterparty along with its terms; what is refused of it is refused at its own fields. */
async function enterCounterparty(counterparty: RecordDraft['counterparty']): Promise<string> {
  try {
    return (await send(api.counterparties.$post({ json: counterparty }))).id;
  } catch (error) {
    if (!(error instanceof ApiProblem)) throw error;
    const errors = error.problem.errors.map(({ pointer, detail }) => ({
      pointer: `/counterparty${pointer}`,
      detail,
    }));
    throw new ApiProblem({ ...error.problem, errors }, { cause: error });
  }
}

/** The contract editor: every clause with its plain sentence beside it. */
export function TermsForm(props: {
  formName: string;
  initial: RecordDraft;
  saveLabel: string;
  save: (sent: SentTerms) => Promise<TermsRecord>;
}) {
  const { formName, initial, saveLabel, save } = props;
  const owner = useOwner();
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  // A contract that was read from a file is another set of fields: those that unfold do so anew.
  const [filesRead, setFilesRead] = useState(0);
  const draft = useDraft(formName, initial);
  const { form } = draft;
  const { body } = form.value;
  const reading = useMemo(() => {
    const read = termsOfDraft(body, owner);
    return { ...read, findings: checkTerms(read.terms) };
  }, [body, owner]);

  async function onSave(): Promise<void> {
    const { terms, incomplete } = termsOfDraft(body, owner);
    if (incomplete.length > 0) throw new Error(`Not filled in: ${incomplete.join(', ')}.`);
    const { counterparty, name, validFrom, validTo } = form.value;
    let { counterpartyId } = form.value;
    if (counterpartyId === newOne) {
      counterpartyId = await enterCounterparty(counterparty);
      // Should the terms be refused, the counterparty is known by then and must not be entered twice.
      at(form, 'counterpartyId').onChange(counterpartyId);
      await booksChanged();
    }
    const record = await save({
      counterpartyId,
      name,
      validFrom,
      validTo: validTo === '' ? null : validTo,
      body: terms,
    });
    draft.saved();
    await booksChanged();
    await navigate({ to: '/terms/$termsId', params: { termsId: record.id } });
  }

  return (
    <div className="terms-editor">
      <DraftNote state={draft.state} discard={draft.discard} />
      <TermsUpload
        onRead={(terms) => {
          at(form, 'body').onChange(draftOfTerms(terms, figureWriter(owner)));
          setFilesRead((count) => count + 1);
        }}
      />
      <Form sends="POST /terms" draft={draft} saveLabel={saveLabel} onSave={onSave}>
        <RecordFields form={form} />
        <ReadingContext value={reading}>
          <ContractFields key={filesRead} form={at(form, 'body')} />
        </ReadingContext>
      </Form>
      <TrySample read={reading} />
    </div>
  );
}

function RecordFields(props: { form: Binding<RecordDraft> }) {
  const { form } = props;
  const { data: counterparties } = useSuspenseQuery(counterpartiesQuery);
  const counterparty = at(form, 'counterparty');
  return (
    <Fieldset legend="In the books">
      <ChoiceField
        label="Agreed with"
        required
        choices={[
          ...counterparties.map((one) => ({ value: one.id, label: one.name })),
          { value: newOne, label: 'Someone new' },
        ]}
        {...at(form, 'counterpartyId')}
      />
      {form.value.counterpartyId === newOne ? (
        <>
          <TextField
            label="Name of the counterparty"
            required
            maxLength={120}
            {...at(counterparty, 'name')}
          />
          <TextField
            label="Address"
            lines={3}
            maxLength={500}
            hint="As it prints on statements."
            {...at(counterparty, 'address')}
          />
        </>
      ) : null}
      <TextField
        label="Short name of these terms"
        required
        maxLength={160}
        hint="For lists: “Concentrate 2031”."
        {...at(form, 'name')}
      />
      <DateField label="In force from" required {...at(form, 'validFrom')} />
      <DateField
        label="In force until"
        hint="Empty: until further notice."
        min={form.value.validFrom === '' ? undefined : form.value.validFrom}
        {...at(form, 'validTo')}
      />
    </Fieldset>
  );
}
