import { useSuspenseQuery } from '@tanstack/react-query';
import type { Batch } from '../../../api/schemas/batch.ts';
import { Dec } from '../../../api/calc/money.ts';
import { api, send } from '../../api.ts';
import { treatmentsQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { termsQuery } from '../../lib/book-queries.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { shownText, storedOf } from '../../lib/quantities.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { Range } from '../../parts/range.tsx';
import { SALE, termsChoices, termsHint, wayChoices } from './plan-choices.ts';

/** Changes a plan that has not been begun: another mass, day, treatment or buyer, with a forecast frozen anew. */
export function ChangePlan(props: { batch: Batch; leftKg: string }) {
  const { batch, leftKg } = props;
  const { data: treatments } = useSuspenseQuery(treatmentsQuery);
  const { data: terms } = useSuspenseQuery(termsQuery);
  const owner = useOwner();
  const format = useFormat();
  const booksChanged = useBooksChanged();
  const draft = useDraft(`batch/${batch.id} plan`, {
    treatmentId: batch.treatmentId ?? SALE,
    termsId: batch.termsId,
    plannedOn: batch.plannedOn,
    dryMassKg: shownText('lotMassKg', batch.dryMassKg, owner),
  });
  const { form } = draft;
  const mostKg = new Dec(leftKg).plus(batch.dryMassKg).toFixed();

  async function save(): Promise<void> {
    const { treatmentId, termsId, plannedOn, dryMassKg } = form.value;
    await send(
      api.batches[':id'].plan.$put({
        param: { id: batch.id },
        json: {
          treatmentId: treatmentId === SALE ? null : treatmentId,
          termsId,
          plannedOn,
          dryMassKg: storedOf('lotMassKg', dryMassKg, owner) ?? mostKg,
          version: batch.version,
        },
      }),
    );
    draft.saved();
    await booksChanged();
  }

  return (
    <details open={draft.state.kind === 'restored'}>
      <summary>Change the plan</summary>
      <p>
        As long as nothing is begun, mass, day, treatment and terms can be changed. The forecast is then made
        and frozen anew, on the what-ifs it was first planned with; the earlier one stays below as superseded.
        {batch.decisionId === null
          ? ''
          : ' With another treatment or other terms the batch no longer carries out the recorded decision.'}
      </p>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /batches/:id/plan"
        draft={draft}
        label="Change the plan"
        saveLabel="Change the plan"
        savingLabel="Working the forecast out"
        onSave={save}
      >
        <Fieldset legend="Plan">
          <QuantityField
            label="Dry mass taken"
            quantity="lotMassKg"
            hint={`Empty: all there is, ${format.quantity('lotMassKg', mostKg)}.`}
            {...at(form, 'dryMassKg')}
          />
          <DateField
            label="Planned on"
            required
            hint="The forecast takes prices and terms of this day."
            {...at(form, 'plannedOn')}
          />
          <ChoiceField
            label="Treatment"
            required
            {...at(form, 'treatmentId')}
            choices={wayChoices(treatments, batch.treatmentId)}
          />
          <ChoiceField
            label="Terms"
            required
            hint={termsHint(form.value.treatmentId)}
            {...at(form, 'termsId')}
            choices={termsChoices(terms, form.value.treatmentId)}
          />
        </Fieldset>
      </Form>
    </details>
  );
}

/** What was planned before, and what was then expected. */
export function SupersededPlans(props: { batch: Batch }) {
  const { superseded, currency } = props.batch;
  const format = useFormat();
  return (
    <DataTable
      caption="Earlier plans of this batch, superseded"
      narrow="stack"
      columns={[
        { key: 'day', label: 'Planned on', align: 'start' },
        { key: 'mass', label: 'Dry mass', align: 'end' },
        { key: 'way', label: 'Treatment', align: 'start' },
        { key: 'terms', label: 'Terms of', align: 'start' },
        { key: 'net', label: 'Forecast net value', align: 'end' },
      ]}
      rows={superseded.map((plan, index) => ({
        key: String(index),
        cells: {
          day: format.date(plan.plannedOn),
          mass: format.quantity('lotMassKg', plan.dryMassKg),
          way: plan.treatmentName ?? 'sold as concentrate',
          terms: plan.counterpartyName,
          net: (
            <Range
              range={{
                low: plan.forecast.netValue.p10,
                median: plan.forecast.netValue.p50,
                high: plan.forecast.netValue.p90,
              }}
              unit={currency}
            />
          ),
        },
      }))}
    />
  );
}
