import { useNavigate } from '@tanstack/react-router';
import { Link } from '@tanstack/react-router';
import type { Decision } from '../../../api/calc/economics/decide.ts';
import type { InquiryCosts } from '../../../api/calc/facts/inquiries.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { TextField } from '../../parts/text-field.tsx';
import type { DecideRequest } from '../../lib/decide-messages.ts';

/** The choice that stands for doing nothing yet. */
const LEAVE = 'leave';

/** A decision that is worked out on the page, as it would be recorded. */
export interface ToRecord {
  lotId: string;
  decidedOn: string;
  dryMassKg: string;
  assumptions: DecideRequest['assumptions'];
  inquiryCosts: InquiryCosts;
}

/** Records what is chosen and why, with all that it rests on. Give it a key of the lot, so that each has its own draft. */
export function RecordDecision(props: { toRecord: ToRecord | null; decision: Decision; lotId: string }) {
  const { toRecord, decision, lotId } = props;
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const draft = useDraft(`decision/new ${lotId}`, { chosen: '', reason: '' });
  const { form } = draft;
  const choices = [
    ...decision.options.map((option) => ({ value: option.id, label: option.name })),
    { value: LEAVE, label: 'Leave the lot as it is for now' },
  ];
  const chosen = at(form, 'chosen');
  // An option that a what-if has put out of reach is chosen no more.
  const value = choices.some((choice) => choice.value === chosen.value) ? chosen.value : '';

  async function save(): Promise<void> {
    if (toRecord === null) throw new Error('What is typed above cannot be read yet.');
    const [way = '', termsId = ''] = value.split('/');
    const recorded = await send(
      api.decisions.$post({
        json: {
          ...toRecord,
          reason: form.value.reason,
          chosen: value === LEAVE ? null : { treatmentId: way === 'sale' ? null : way, termsId },
        },
      }),
    );
    draft.saved({ chosen: '', reason: '' });
    await booksChanged();
    await navigate({ to: '/decisions/$decisionId', params: { decisionId: recorded.id } });
  }

  return (
    <section aria-label="Record this decision" id="record">
      <h2>Record this decision</h2>
      <p>
        What was chosen and why is kept with the records, prices and assumptions of this page, to be shown to
        a partner or a bank, and held against what comes.{' '}
        <Link to="/decisions">Decisions recorded so far</Link>.
      </p>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /decisions"
        label="Record this decision"
        saveLabel="Record this decision"
        savingLabel="Freezing what it rests on"
        onSave={save}
      >
        <Fieldset legend="Choice">
          <ChoiceField
            label="What is decided"
            required
            pointer="/chosen"
            value={value}
            onChange={chosen.onChange}
            choices={choices}
            none="Choose"
          />
          <TextField label="Why" required lines={3} maxLength={2000} {...at(form, 'reason')} />
        </Fieldset>
      </Form>
    </section>
  );
}
