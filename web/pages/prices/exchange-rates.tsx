import { queryOptions, useSuspenseQuery } from '@tanstack/react-query';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { decimalOf } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';

/** So many rates are listed, the newest. */
const LISTED_RATES = 24;

const exchangeRatesQuery = queryOptions({
  queryKey: ['exchange-rates'],
  queryFn: () => send(api['exchange-rates'].$get({ query: { limit: String(LISTED_RATES) } })),
});

/** What other currencies were worth in the mill's, by day. */
export function ExchangeRates() {
  const { data: rates } = useSuspenseQuery(exchangeRatesQuery);
  const owner = useOwner();
  const format = useFormat();
  const booksChanged = useBooksChanged();
  return (
    <>
      <p>
        Bills and statements in another currency are told in {owner.currency} at the last rate on or before
        their day. A rate is never guessed: without one, the amount is left out and said to be missing.
      </p>
      <DataTable
        caption={`Exchange rates, ${owner.currency} for one of another, newest first`}
        narrow="stack"
        empty={`No rate yet. None is needed while everything is in ${owner.currency}.`}
        columns={[
          { key: 'currency', label: 'Currency', align: 'start' },
          { key: 'day', label: 'Day', align: 'start' },
          { key: 'rate', label: 'Rate', align: 'end' },
          { key: 'source', label: 'Source', align: 'start' },
          { key: 'remove', label: '', align: 'start' },
        ]}
        rows={rates.map(({ currency, ratedOn, rate, source }) => ({
          key: `${currency} ${ratedOn}`,
          cells: {
            currency,
            day: format.date(ratedOn),
            rate: format.money(rate, owner.currency),
            source,
            remove: (
              <ConfirmButton
                sends="DELETE /exchange-rates"
                label={`Remove ${currency} of ${format.date(ratedOn)}`}
                question={`The rate of ${currency} of ${format.date(ratedOn)} will be gone. What was told at it takes the one before.`}
                confirmLabel="Remove it"
                onConfirm={async () => {
                  await send(api['exchange-rates'].$delete({ query: { currency, ratedOn } }));
                  await booksChanged();
                }}
              />
            ),
          },
        }))}
      />
      <details className="record-form">
        <summary>Enter an exchange rate</summary>
        <RateForm last={rates[0]?.currency ?? ''} />
      </details>
    </>
  );
}

function RateForm(props: { last: string }) {
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const draft = useDraft('exchange-rate/new', {
    currency: props.last,
    ratedOn: todayHere(),
    rate: '',
    source: '',
  });
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /exchange-rates"
        draft={draft}
        label="Exchange rate"
        saveLabel="Enter this rate"
        onSave={async () => {
          const { rate, ...fields } = form.value;
          await send(api['exchange-rates'].$put({ json: { ...fields, rate: decimalOf(rate, owner) ?? '' } }));
          await booksChanged();
          draft.saved({ ...form.value, rate: '' });
        }}
      >
        <Fieldset legend="Exchange rate">
          <TextField
            label="Currency"
            required
            maxLength={3}
            hint="The other one: three capitals (ISO 4217)."
            {...at(form, 'currency')}
          />
          <DateField
            label="Day"
            required
            max={todayHere()}
            hint="A rate already on record for this day is corrected."
            {...at(form, 'ratedOn')}
          />
          <NumberField
            label="Rate"
            required
            unit={`${owner.currency} for one`}
            min={0.000001}
            max={1_000_000_000}
            decimals={8}
            {...at(form, 'rate')}
          />
          <TextField label="Source" maxLength={120} {...at(form, 'source')} />
        </Fieldset>
      </Form>
    </>
  );
}
