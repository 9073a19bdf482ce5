import { useNavigate } from '@tanstack/react-router';
import type { Settlement } from '../../../api/calc/settlement/statement.ts';
import type { Statement, StatementEntry, StatementSummary } from '../../../api/schemas/statement.ts';
import type { TermsRecord } from '../../../api/schemas/terms-record.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { Form } from '../../parts/form.tsx';
import { AgreedItemFields } from './agreed-item-fields.tsx';
import { DateFields } from './date-fields.tsx';
import { useLiveSettlement } from './live-settlement.tsx';
import type { LiveSettlement } from './live-settlement.tsx';
import { ParcelFields } from './parcel-fields.tsx';
import { AssayResultFields, PriceAgreedFields } from './result-fields.tsx';
import { SettlementLines, SettlementTotal } from './settlement-view.tsx';
import { allowedStages, stageNames } from './stages.ts';
import { entryOfDraft } from './statement-draft.ts';
import type { StatementDraft } from './statement-draft.ts';

/** A statement while it is a draft, with the settlement that it makes worked beside it. */
export function StatementForm(props: {
  formName: string;
  initial: StatementDraft;
  terms: readonly TermsRecord[];
  issued: readonly StatementSummary[];
  saveLabel: string;
  save: (entry: StatementEntry) => Promise<Statement>;
}) {
  const { formName, initial, terms, issued, saveLabel, save } = props;
  const owner = useOwner();
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const draft = useDraft(formName, initial);
  const { form } = draft;
  const record = terms.find((one) => one.id === form.value.termsId);
  const read = record === undefined ? null : entryOfDraft(form.value, record.body, owner);
  const live = useLiveSettlement(read === null || read.incomplete.length > 0 ? null : read.entry);

  async function onSave(): Promise<void> {
    if (read === null) throw new Error('No terms are chosen.');
    const statement = await save(read.entry);
    draft.saved();
    await booksChanged();
    await navigate({ to: '/settlements/$statementId', params: { statementId: statement.id } });
  }

  return (
    <div className="statement-editor">
      <div className="statement-fields">
        <DraftNote state={draft.state} discard={draft.discard} />
        <Form sends="POST /statements" draft={draft} saveLabel={saveLabel} onSave={onSave}>
          <AgreementFields form={form} terms={terms} issued={issued} />
          {record === undefined ? (
            <p>Choose the terms, and the form asks for what they need.</p>
          ) : (
            <>
              <ParcelFields form={form} terms={record.body} />
              <AssayResultFields form={form} terms={record.body} />
              <DateFields form={form} terms={record.body} />
              <PriceAgreedFields form={form} terms={record.body} />
              <AgreedItemFields form={form} currency={record.body.currency} />
            </>
          )}
        </Form>
      </div>
      {record === undefined ? null : (
        <LiveTotal live={live} incomplete={read?.incomplete.length ?? 0} record={record} />
      )}
      {live.settlement === null ? null : <LiveLines live={live} settlement={live.settlement} />}
      {live.settlement === null || record === undefined ? null : (
        <div className="live-bar" aria-busy={live.stale}>
          <a href="#as-it-stands">As it stands</a>
          <SettlementTotal settlement={live.settlement} direction={record.body.direction} />
        </div>
      )}
    </div>
  );
}

function AgreementFields(props: {
  form: Binding<StatementDraft>;
  terms: readonly TermsRecord[];
  issued: readonly StatementSummary[];
}) {
  const { form, terms, issued } = props;
  const { stage } = form.value;
  const allowed = allowedStages(issued, terms.find(({ id }) => id === form.value.termsId)?.body);
  const offered = allowed.includes(stage) ? allowed : [...allowed, stage];
  return (
    <Fieldset legend="Statement">
      <ChoiceField
        label="Stage"
        choices={offered.map((value) => ({ value, label: stageNames[value] }))}
        {...at(form, 'stage')}
      />
      <ChoiceField
        label="Terms"
        required
        choices={terms.map((one) => ({
          value: one.id,
          label: `${one.counterpartyName}: ${one.name}, version ${one.versionNumber}`,
        }))}
        {...at(form, 'termsId')}
      />
    </Fieldset>
  );
}

function LiveTotal(props: { live: LiveSettlement; incomplete: number; record: TermsRecord }) {
  const { live, incomplete, record } = props;
  const { settlement, stale, problem } = live;
  return (
    <section
      className="statement-total"
      id="as-it-stands"
      aria-label="Settlement as it stands"
      aria-busy={stale}
    >
      <h2>As it stands</h2>
      {incomplete > 0 ? (
        <p>
          {incomplete === 1 ? 'One field' : `${incomplete} fields`} still to be filled in before it can be
          worked out{settlement === null ? '' : '; below is the last that could'}.
        </p>
      ) : null}
      {problem === null ? null : (
        <div role="status">
          <p>It cannot be worked out so:</p>
          <ul>
            {problem.errors.length === 0 ? (
              <li>{problem.detail === '' ? problem.title : problem.detail}</li>
            ) : (
              problem.errors.map(({ pointer, detail }) => <li key={`${pointer} ${detail}`}>{detail}</li>)
            )}
          </ul>
        </div>
      )}
      {settlement === null ? null : (
        <>
          <div role="status">
            <SettlementTotal settlement={settlement} direction={record.body.direction} />
          </div>
          <FindingList findings={settlement.findings} label="What to bear in mind" />
        </>
      )}
    </section>
  );
}

function LiveLines(props: { live: LiveSettlement; settlement: Settlement }) {
  const { live, settlement } = props;
  return (
    <section className="statement-lines" aria-label="Every line" aria-busy={live.stale}>
      <h2>Every line with its working</h2>
      <SettlementLines settlement={settlement} />
    </section>
  );
}
