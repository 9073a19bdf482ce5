import { balanceRepeatability } from '../../../api/calc/assay/balance-check.ts';
import { judgeCheck } from '../../../api/calc/facts/balance-from-record.ts';
import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import { api, ApiProblem, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { todayHere } from '../../lib/today.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { checkFromDraft, checkSoFar, emptyCheck, repeatedReadings } from './check-draft.ts';
import type { CheckDraft } from './check-draft.ts';

/** A check of a balance to enter, judged while it is typed. */
export function NewCheck(props: { balance: BalanceRecord }) {
  const { balance } = props;
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const draft = useDraft(`balance/${balance.id}/check`, emptyCheck(todayHere()));
  const { form } = draft;
  const { kind } = form.value;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /balances/:id/checks"
        draft={draft}
        label="New check of the balance"
        saveLabel="Enter this check"
        onSave={async () => {
          refuseUnreadable(form.value, owner);
          await send(
            api.balances[':id'].checks.$post({
              param: { id: balance.id },
              json: checkFromDraft(form.value, owner),
            }),
          );
          draft.saved({ ...emptyCheck(form.value.checkedOn), kind });
          await booksChanged();
        }}
      >
        <Fieldset legend="New check">
          <ChoiceField
            label="How it was checked"
            choices={[
              { value: 'check-weights', label: 'with check weights of known mass' },
              { value: 'repeat-weighing', label: 'by weighing one thing again and again' },
            ]}
            {...at(form, 'kind')}
          />
          <DateField label="Checked on" required {...at(form, 'checkedOn')} />
          {kind === 'repeat-weighing' ? (
            <RepeatedField typed={form.value.repeated} onChange={at(form, 'repeated').onChange} />
          ) : null}
        </Fieldset>
        {kind === 'check-weights' ? (
          <RowsField
            legend="Check weights"
            hint="Three of different mass tell a wrong zero from a wrong span; among them about what you weigh."
            rows={at(form, 'readings')}
            newRow={() => ({ nominalMassG: '', readingG: '' })}
            rowName="weight"
            min={1}
          >
            {(row) => (
              <>
                <NumberField
                  label="Mass of the weight"
                  unit="g"
                  required
                  min={0.000001}
                  decimals={8}
                  {...at(row, 'nominalMassG')}
                />
                <NumberField
                  label="The balance reads"
                  unit="g"
                  required
                  decimals={8}
                  {...at(row, 'readingG')}
                />
              </>
            )}
          </RowsField>
        ) : null}
        <Judgement balance={balance} draft={form.value} />
        <TextField label="Remarks" maxLength={2000} lines={2} {...at(form, 'remarks')} />
      </Form>
    </>
  );
}

/** A reading that cannot be read is never left out on the quiet: the check is not sent. */
function refuseUnreadable(draft: CheckDraft, owner: { decimalComma: boolean }): void {
  if (draft.kind !== 'repeat-weighing') return;
  const { unreadable } = repeatedReadings(draft.repeated, owner);
  if (unreadable === null) return;
  throw new ApiProblem({
    title: 'Not saved yet',
    detail: 'One of the readings is not a number.',
    status: 0,
    errors: [{ pointer: '/readings', detail: `“${unreadable}” is not a number.` }],
    requestId: '',
  });
}

function RepeatedField(props: { typed: string; onChange: (typed: string) => void }) {
  const owner = useOwner();
  const { unreadable, readingsG } = repeatedReadings(props.typed, owner);
  return (
    <>
      <TextField
        label="Readings of one thing, g"
        required
        lines={3}
        hint="Ten are good. Take it off in between; a blank between readings."
        pointer="/readings"
        value={props.typed}
        onChange={props.onChange}
      />
      <p className="wide muted" role="status">
        {readingsG.length} readings{unreadable === null ? '.' : `; “${unreadable}” is not a number.`}
      </p>
    </>
  );
}

/** What the readings typed so far say. */
function Judgement(props: { balance: BalanceRecord; draft: CheckDraft }) {
  const { balance, draft } = props;
  const owner = useOwner();
  const format = useFormat();
  const check = checkSoFar(draft, owner);
  if (check.kind === 'repeat-weighing') {
    const worked = balanceRepeatability({
      readingsG: check.readings.map(({ readingG }) => readingG),
      readabilityG: Number(balance.readabilityG),
    });
    return (
      <div role="status">
        {worked === null ? null : (
          <>
            <p>Repeatability by these readings: {format.significant(worked.repeatabilityG, 2)} g.</p>
            <FindingList label="About these readings" findings={worked.findings} />
          </>
        )}
      </div>
    );
  }
  const judged = check.readings.length === 0 ? null : judgeCheck(balance, check);
  return (
    <div role="status">
      {judged === null ? null : judged.findings.length === 0 ? (
        <p>The balance reads right by these weights.</p>
      ) : (
        <FindingList label="About these weights" findings={judged.findings} />
      )}
    </div>
  );
}
