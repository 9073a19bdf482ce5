import { useSuspenseQuery } from '@tanstack/react-query';
import { workScreening } from '../../../api/calc/facts/screening-from-record.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import { api, send } from '../../api.ts';
import { balancesQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { emptyFine, emptyScreening, partsOf } from './screening-draft.ts';
import type { ScreeningDraft } from './screening-draft.ts';

/** An assay with the coarse metal screened out: both parts as the laboratory gives them, worked to one grade. */
export function NewScreening(props: { lot: Lot; close: () => void }) {
  const { lot, close } = props;
  const owner = useOwner();
  const { data: balances } = useSuspenseQuery(balancesQuery);
  const booksChanged = useBooksChanged();
  const draft = useDraft(
    `lot/${lot.id}/screening`,
    emptyScreening(balances.length === 1 ? (balances[0]?.id ?? '') : ''),
  );
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /lots/:id/screen-metallics"
        draft={draft}
        label="New screened assay"
        saveLabel="Add this screened assay"
        buttons={
          <button type="button" onClick={close}>
            Close
          </button>
        }
        onSave={async () => {
          const { laboratory, certificate, assayedOn, element, balanceId } = form.value;
          await send(
            api.lots[':id']['screen-metallics'].$post({
              param: { id: lot.id },
              json: {
                laboratory,
                certificate,
                assayedOn,
                element,
                balanceId,
                ...partsOf(form.value, owner),
              },
            }),
          );
          draft.saved(emptyScreening(balanceId));
          await booksChanged();
          close();
        }}
      >
        <Fieldset
          legend="New screened assay"
          hint="The sample is ground and screened; what stays on the screen is assayed whole, what passes by samples of it."
        >
          <TextField
            label="Laboratory"
            required
            maxLength={120}
            hint="Your own mill, if you did it yourself."
            {...at(form, 'laboratory')}
          />
          <TextField label="Certificate" maxLength={120} {...at(form, 'certificate')} />
          <DateField label="Assayed on" required {...at(form, 'assayedOn')} />
          <ChoiceField
            label="Metal"
            choices={[
              { value: 'Au', label: 'Au, gold' },
              { value: 'Ag', label: 'Ag, silver' },
            ]}
            {...at(form, 'element')}
          />
          <NumberField label="Screen" unit="mm" max={100} {...at(form, 'screenMm')} />
          <ChoiceField
            label="Balance that weighed the parts"
            required
            choices={balances.map(({ id, name }) => ({ value: id, label: name }))}
            hint="One like the laboratory’s, where it weighed them."
            {...at(form, 'balanceId')}
          />
        </Fieldset>
        <Fieldset legend="On the screen, assayed whole">
          <NumberField label="Mass on the screen" unit="g" required {...at(form, 'coarseMassG')} />
          <NumberField label="Metal in it" unit="mg" required {...at(form, 'coarseMetalMg')} />
          <NumberField
            label="Standard uncertainty of the metal"
            unit="mg"
            hint="Empty: what is usual for such an assay."
            {...at(form, 'coarseMetalStandardUncertaintyMg')}
          />
        </Fieldset>
        <Fieldset legend="Through the screen">
          <NumberField
            label="Mass through the screen"
            unit="g"
            required
            min={0.000001}
            {...at(form, 'fineMassG')}
          />
        </Fieldset>
        <RowsField
          legend="Assays of what passed"
          rows={at(form, 'fineAssays')}
          newRow={() => emptyFine}
          rowName="fine assay"
          min={1}
          max={20}
        >
          {(row) => (
            <>
              <QuantityField label="Result" quantity="gradeGpt" required {...at(row, 'gradeGpt')} />
              <QuantityField
                label="Standard uncertainty"
                quantity="gradeGpt"
                hint="Empty: what is usual for such a result."
                {...at(row, 'standardUncertaintyGpt')}
              />
            </>
          )}
        </RowsField>
        <WorkedSoFar draft={form.value} />
      </Form>
    </>
  );
}

/** The grade as far as the parts are typed. */
function WorkedSoFar(props: { draft: ScreeningDraft }) {
  const { draft } = props;
  const owner = useOwner();
  const format = useFormat();
  const { data: balances } = useSuspenseQuery(balancesQuery);
  const balance = balances.find(({ id }) => id === draft.balanceId);
  const parts = partsOf(draft, owner);
  const typed = parts.fineMassG > 0 && parts.fineAssays.length > 0 && balance !== undefined;
  const worked = typed ? workScreening({ ...parts, balance }) : null;
  return (
    <div role="status">
      {worked === null || worked.gradeGpt === null ? (
        <p className="muted">With both parts and the balance, the grade shows here.</p>
      ) : (
        <>
          <p>
            Grade of the whole: <strong>{format.measuredQuantity('gradeGpt', worked.gradeGpt)}</strong>
            {worked.coarseShareFrac === null
              ? ''
              : `; ${format.percent(worked.coarseShareFrac.value, 0)} of the metal stayed on the screen`}
            .
          </p>
          <FindingList findings={worked.findings} />
        </>
      )}
    </div>
  );
}
