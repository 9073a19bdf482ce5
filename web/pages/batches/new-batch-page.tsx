import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useLocation, useNavigate } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { treatmentsQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { newestBatchesQuery, termsQuery } from '../../lib/book-queries.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { storedOf } from '../../lib/quantities.ts';
import { todayHere } from '../../lib/today.ts';
import { useLots } from '../../lib/use-lots.ts';
import { valuesFrom } from '../../lib/use-search-state.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Page } from '../../parts/page.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { readWhatIf, startingWhatIf } from '../decide/what-if.ts';
import { DecisionLink } from '../decisions/decision-link.tsx';
import { LotField } from '../lots/lot-field.tsx';
import { SALE, termsChoices, termsHint, wayChoices } from './plan-choices.ts';

/** The next code after the highest of the form B-12. */
function nextCode(codes: readonly string[]): string {
  const highest = codes.reduce((top, code) => Math.max(top, Number(/^B-(\d+)$/.exec(code)?.[1] ?? 0)), 0);
  return `B-${String(highest + 1).padStart(2, '0')}`;
}

/** Plans a batch: takes a mass out of a lot, and freezes what is expected of it. */
export function NewBatchPage() {
  const { data: treatments } = useSuspenseQuery(treatmentsQuery);
  const { data: terms } = useSuspenseQuery(termsQuery);
  const { data: batches } = useSuspenseQuery(newestBatchesQuery);
  const owner = useOwner();
  const format = useFormat();
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const search = useLocation({ select: (location) => location.search as Record<string, unknown> });
  const asked = valuesFrom({ ...startingWhatIf, option: '', decision: '' }, search);
  const [askedWay = '', askedTerms = ''] = asked.option.split('/');
  const draft = useDraft(`batch/new ${asked.lot} ${asked.option}`, {
    code: nextCode(batches.map((batch) => batch.code)),
    lotId: asked.lot,
    treatmentId: askedWay,
    termsId: askedTerms,
    plannedOn: asked.on === '' ? todayHere() : asked.on,
    dryMassKg: asked.mass,
    remarks: '',
  });
  const { form } = draft;
  const from = useLots([asked.lot, form.value.lotId]);
  const { lots } = from;
  const lot = lots.find((one) => one.id === form.value.lotId);
  const assumptions = readWhatIf(asked, owner);
  const isWhatIf = Object.entries(startingWhatIf).some(
    ([name, start]) => !['lot', 'mass', 'on'].includes(name) && asked[name as keyof typeof asked] !== start,
  );

  async function save(): Promise<void> {
    const { treatmentId, dryMassKg, ...fields } = form.value;
    const batch = await send(
      api.batches.$post({
        json: {
          ...fields,
          treatmentId: treatmentId === SALE ? null : treatmentId,
          decisionId: asked.decision === '' ? null : asked.decision,
          dryMassKg: storedOf('lotMassKg', dryMassKg, owner) ?? lot?.leftKg ?? '',
          assumptions: assumptions ?? {},
        },
      }),
    );
    draft.saved();
    await booksChanged();
    await navigate({ to: '/batches/$batchId', params: { batchId: batch.id } });
  }

  return (
    <Page title="Plan a batch">
      <Lead>
        Planning a batch takes its mass out of the lot and freezes the forecast with all it was worked from,
        to be held against what comes.
      </Lead>
      {lots.length === 0 || terms.length === 0 ? (
        <Notice level="note">
          A batch needs a lot and the terms it will be sold under: <Link to="/lots/new">enter a lot</Link>,{' '}
          <Link to="/terms/new">enter terms</Link>.
        </Notice>
      ) : null}
      {asked.decision === '' ? null : (
        <Notice level="note">
          The batch carries out a <DecisionLink decisionId={asked.decision}>recorded decision</DecisionLink>,
          and will be held against it.
        </Notice>
      )}
      {isWhatIf ? (
        <Notice level="note">
          The forecast will be made with the what-if prices and costs of the decision page.
        </Notice>
      ) : null}
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /batches"
        draft={draft}
        saveLabel="Plan this batch"
        savingLabel="Working the forecast out"
        onSave={save}
      >
        <Fieldset legend="Batch">
          <TextField label="Code" required maxLength={40} {...at(form, 'code')} />
          <LotField
            label="Lot"
            required
            {...at(form, 'lotId')}
            from={from}
            labelOf={(one) => `${one.code}, ${format.quantity('lotMassKg', one.leftKg)} left`}
          />
          <QuantityField
            label="Dry mass taken"
            quantity="lotMassKg"
            hint={
              lot === undefined
                ? undefined
                : `Empty: all that is left, ${format.quantity('lotMassKg', lot.leftKg)}.`
            }
            {...at(form, 'dryMassKg')}
          />
          <ChoiceField
            label="Treatment"
            required
            {...at(form, 'treatmentId')}
            choices={wayChoices(treatments)}
          />
          <ChoiceField
            label="Terms"
            required
            hint={termsHint(form.value.treatmentId)}
            {...at(form, 'termsId')}
            choices={termsChoices(terms, form.value.treatmentId)}
          />
          <DateField
            label="Planned on"
            required
            hint="The forecast takes prices and terms of this day."
            {...at(form, 'plannedOn')}
          />
          <TextField label="Remarks" lines={3} maxLength={2000} {...at(form, 'remarks')} />
        </Fieldset>
      </Form>
    </Page>
  );
}
