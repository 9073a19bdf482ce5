import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { advanceBases, dayCounts, stages } from './charge-choices.ts';
import { events } from './choices.ts';
import { CurrencyField } from './currency-field.tsx';
import { Clause } from './reading.tsx';
import type { AdvanceDraft, TermsDraft } from './terms-draft.ts';

function AdvanceFields(props: { name: string; advance: Binding<AdvanceDraft> }) {
  const { name, advance } = props;
  return (
    <>
      <NumberField
        label={name}
        unit="%"
        max={100}
        hint="Empty: none is made."
        {...at(advance, 'shareFrac')}
      />
      {advance.value.shareFrac === '' ? null : (
        <ChoiceField label={`${name} of`} choices={advanceBases} {...at(advance, 'of')} />
      )}
    </>
  );
}

/** What is paid in advance, and on which day what is due. */
export function PaymentFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  return (
    <Clause
      title="Provisional payment and days of payment"
      paths={['/provisional', '/payment']}
      says={['Payment']}
      only={(terms) => ({
        ...terms,
        secondProvisional: null,
        interest: null,
        exchangeRates: [],
        paidIn: null,
      })}
    >
      <AdvanceFields name="Provisional payment" advance={at(form, 'provisional')} />
      <RowsField
        legend="Days of payment"
        rows={at(form, 'payment')}
        newRow={() => ({
          stage: 'final' as const,
          days: '',
          dayKind: 'calendar' as const,
          after: 'statement' as const,
        })}
        rowName="payment day"
        max={3}
      >
        {(payment) => (
          <>
            <ChoiceField label="Statement" choices={stages} {...at(payment, 'stage')} />
            <NumberField
              label="Due after"
              unit="days"
              required
              max={1000}
              decimals={0}
              {...at(payment, 'days')}
            />
            <ChoiceField
              label="Days counted"
              choices={[
                { value: 'calendar', label: 'Calendar days' },
                { value: 'business', label: 'Business days' },
              ]}
              {...at(payment, 'dayKind')}
            />
            <ChoiceField label="Counted from" choices={events} {...at(payment, 'after')} />
          </>
        )}
      </RowsField>
    </Clause>
  );
}

/** A second advance, interest on advances, other currencies. */
export function FurtherPaymentFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  const interest = at(form, 'interest');
  const period = at(interest, 'period');
  return (
    <Clause
      paths={['/secondProvisional', '/interest', '/exchangeRates', '/paidIn']}
      says={['Payment']}
      only={(terms) => ({ ...terms, provisional: null, payment: [] })}
    >
      <AdvanceFields name="Second provisional payment" advance={at(form, 'secondProvisional')} />
      <NumberField
        label="Interest on advances"
        unit="% a year"
        max={100}
        hint="Empty: none."
        {...at(interest, 'rateFrac')}
      />
      {interest.value.rateFrac === '' ? null : (
        <>
          <ChoiceField label="Days of the year" choices={dayCounts} {...at(interest, 'dayCount')} />
          <ChoiceField
            label="Interest runs"
            choices={[
              { value: 'until', label: 'Until an event' },
              { value: 'days', label: 'For a number of days' },
            ]}
            {...at(period, 'kind')}
          />
          {period.value.kind === 'until' ? (
            <ChoiceField label="Until" choices={events} {...at(period, 'event')} />
          ) : (
            <NumberField
              label="For so many days"
              unit="days"
              required
              max={1000}
              decimals={0}
              {...at(period, 'days')}
            />
          )}
        </>
      )}
      <CurrencyField
        label="The total is paid in"
        hint="Empty: in the contract’s currency."
        {...at(form, 'paidIn')}
      />
      <RowsField
        legend="Exchange rates"
        hint="For every currency other than the contract’s."
        rows={at(form, 'exchangeRates')}
        newRow={() => ({ currency: '', rateOn: 'statement' as const, source: '' })}
        rowName="exchange rate"
      >
        {(rate) => (
          <>
            <CurrencyField label="Currency" required {...at(rate, 'currency')} />
            <ChoiceField label="Rate of the day of" choices={events} {...at(rate, 'rateOn')} />
            <TextField
              label="Source"
              required
              maxLength={200}
              hint="Who publishes the rate."
              {...at(rate, 'source')}
            />
          </>
        )}
      </RowsField>
    </Clause>
  );
}
