import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { events, periods, priceBases, priceChoices, priceUnits, standIns } from './choices.ts';
import { CurrencyField } from './currency-field.tsx';
import { emptyGradePrice, emptyOption } from './draft-of-metals.ts';
import type { MetalDraft, PeriodDraft, QuotedDraft } from './terms-draft.ts';

/** The price of a metal: fixed, or the mean of quotations over a quotational period. */
export function PriceFields(props: {
  price: Binding<MetalDraft['price']>;
  currency: string;
  gradeUnit: string;
}) {
  const { price, currency, gradeUnit } = props;
  const basis = at(price, 'basis');
  const quoted = `${price.value.currency === '' ? currency : price.value.currency}/${price.value.unit}`;
  return (
    <>
      <ChoiceField label="Price" choices={priceBases} {...at(basis, 'kind')} />
      <ChoiceField label="Price per" choices={priceUnits} {...at(price, 'unit')} />
      {basis.value.kind === 'fixed' ? (
        <NumberField label="Fixed price" unit={quoted} required {...at(basis, 'price')} />
      ) : basis.value.kind === 'by-grade' ? (
        <GradePriceFields basis={basis} gradeUnit={gradeUnit} priceUnit={quoted} />
      ) : basis.value.kind === 'choice' ? (
        <OptionFields basis={basis} />
      ) : (
        <QuotationFields basis={basis} />
      )}
      <details className="wide">
        <summary>Part of the price, reduction, floor and cap, other currency</summary>
        <div className="fields">
          <NumberField
            label="Part of the price that is paid"
            unit="%"
            required
            max={100}
            {...at(price, 'paidFrac')}
          />
          <NumberField
            label="Taken off the price"
            unit={`${currency}/${price.value.unit}`}
            required
            {...at(price, 'reduction')}
          />
          <NumberField
            label="Floor of the price"
            unit={`${currency}/${price.value.unit}`}
            hint="Paid for is no less than this. Empty: none."
            {...at(price, 'floor')}
          />
          <NumberField
            label="Cap of the price"
            unit={`${currency}/${price.value.unit}`}
            hint="Paid for is no more than this. Empty: none."
            {...at(price, 'cap')}
          />
          <CurrencyField
            label="Currency of the quotation"
            hint={`Empty: ${currency === '' ? 'the contract’s' : currency}.`}
            {...at(price, 'currency')}
          />
        </div>
      </details>
    </>
  );
}

/** Prices that the contract itself fixes, by the assay of the metal. */
function GradePriceFields(props: {
  basis: Binding<MetalDraft['price']['basis']>;
  gradeUnit: string;
  priceUnit: string;
}) {
  const { basis, gradeUnit, priceUnit } = props;
  return (
    <RowsField
      legend="Prices by grade"
      hint="In rising order. All of the metal is paid at the price of the last step that its assay reaches; below the first nothing is paid."
      rows={at(basis, 'steps')}
      newRow={() => emptyGradePrice}
      rowName="step"
      min={1}
      max={30}
    >
      {(step) => (
        <>
          <NumberField label="From" unit={gradeUnit} required {...at(step, 'fromGrade')} />
          <NumberField label="Price" unit={priceUnit} required {...at(step, 'price')} />
        </>
      )}
    </RowsField>
  );
}

/** Several quotations or periods of which one is the price, or their mean. */
function OptionFields(props: { basis: Binding<MetalDraft['price']['basis']> }) {
  const { basis } = props;
  return (
    <>
      <ChoiceField label="Which counts" choices={priceChoices} {...at(basis, 'rule')} />
      <RowsField
        legend="Quotations and periods to choose from"
        rows={at(basis, 'options')}
        newRow={() => emptyOption}
        rowName="option"
        min={1}
        max={10}
      >
        {(option) => (
          <>
            <QuotationFields basis={option} />
            <NumberField
              label="So much of it counts"
              unit="%"
              required
              max={100}
              hint="98 where a discount of 2 % is agreed."
              {...at(option, 'paidFrac')}
            />
          </>
        )}
      </RowsField>
    </>
  );
}

function QuotationFields<Quoted extends QuotedDraft>(props: { basis: Binding<Quoted> }) {
  const { basis } = props;
  const provisional = at(basis, 'provisional');
  return (
    <>
      <TextField
        label="What is quoted"
        required
        maxLength={200}
        hint="As the contract names it."
        {...at(basis, 'source')}
      />
      <PeriodFields period={at(basis, 'period')} />
      <ChoiceField label="Until the period is over" choices={standIns} {...at(provisional, 'kind')} />
      {provisional.value.kind === 'mean-of-last' ? (
        <NumberField
          label="How many"
          unit="quotations"
          required
          min={1}
          max={400}
          decimals={0}
          {...at(provisional, 'quotations')}
        />
      ) : null}
    </>
  );
}

function PeriodFields(props: { period: Binding<PeriodDraft> }) {
  const { period } = props;
  const { kind } = period.value;
  const whole = { required: true, decimals: 0 } as const;
  return (
    <>
      <ChoiceField label="Quotational period" choices={periods} {...at(period, 'kind')} />
      {kind === 'dates' ? (
        <>
          <DateField label="From" required {...at(period, 'fromDate')} pointer={at(period, 'from').pointer} />
          <DateField label="To" required {...at(period, 'toDate')} pointer={at(period, 'to').pointer} />
        </>
      ) : (
        <ChoiceField label="Counted from" choices={events} {...at(period, 'event')} />
      )}
      {kind === 'calendar-month' ? (
        <NumberField
          label="Months after that month"
          unit="months"
          {...whole}
          min={-12}
          max={24}
          hint="0 is the month itself, 1 the month after."
          {...at(period, 'monthsAfter')}
        />
      ) : null}
      {kind === 'calendar-week' ? (
        <NumberField
          label="Weeks after that week"
          unit="weeks"
          {...whole}
          min={-52}
          max={104}
          hint="0 is the week itself."
          {...at(period, 'weeksAfter')}
        />
      ) : null}
      {kind === 'business-days' || kind === 'calendar-days' ? (
        <>
          <NumberField
            label="From"
            unit="days after"
            {...whole}
            min={-400}
            max={400}
            hint="Negative is before."
            {...at(period, 'from')}
          />
          <NumberField label="To" unit="days after" {...whole} min={-400} max={400} {...at(period, 'to')} />
        </>
      ) : null}
      {kind === 'business-days' ? (
        <details className="wide">
          <summary>Holidays</summary>
          <RowsField
            legend="Holidays"
            hint="Weekdays that do not count as business days."
            rows={at(period, 'holidays')}
            newRow={() => ''}
            rowName="holiday"
          >
            {(day) => <DateField label="Holiday" required {...day} />}
          </RowsField>
        </details>
      ) : null}
    </>
  );
}
