import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useOwner } from '../../lib/owner.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { chargeKinds, purposes } from './charge-choices.ts';
import { gradeSign, gradeUnits, massBases, massUnits } from './choices.ts';
import { CurrencyField } from './currency-field.tsx';
import { chargeDraft } from './draft-of-clauses.ts';
import { figureWriter } from '../../lib/typed-figures.ts';
import { ElementsField } from './elements-field.tsx';
import { EscalatorFields } from './escalator-fields.tsx';
import { BracketFields, LadderFields } from './ladder-fields.tsx';
import { assayedElements } from './penalty-fields.tsx';
import { Clause } from './reading.tsx';
import type { ChargeDraft, TermsDraft } from './terms-draft.ts';
import { newCharge } from './usual-terms.ts';

/** What the buyer takes for treating, refining, sampling, carrying and the like. */
export function ChargeFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  const owner = useOwner();
  const { weights, currency } = form.value;
  const isBars = weights.kind === 'melt';
  return (
    <>
      <RowsField
        legend="Charges"
        rows={at(form, 'charges')}
        newRow={() =>
          chargeDraft(
            newCharge(isBars ? 'received' : 'settlement', isBars ? 'ozt' : 'tonne'),
            figureWriter(owner),
          )
        }
        rowName="charge"
      >
        {(charge, index) => <OneCharge form={form} charge={charge} index={index} />}
      </RowsField>
      <Clause paths={['/minimumCharges']} says={['Charges']} only={(terms) => ({ ...terms, charges: [] })}>
        <NumberField
          label="Least sum of all charges"
          unit={currency}
          hint="Refining of metals included. Empty: none is named."
          {...at(form, 'minimumCharges')}
        />
      </Clause>
    </>
  );
}

function OneCharge(props: { form: Binding<TermsDraft>; charge: Binding<ChargeDraft>; index: number }) {
  const { form, charge, index } = props;
  return (
    <Clause
      title={charge.value.name === '' ? 'New charge' : charge.value.name}
      paths={[`/charges/${index}`]}
      says={['Charges']}
      only={(terms) => ({ ...terms, charges: terms.charges.slice(index, index + 1), minimumCharges: null })}
    >
      <TextField
        label="Name"
        required
        maxLength={200}
        hint="As the contract calls it."
        {...at(charge, 'name')}
      />
      <ChoiceField label="What it is for" choices={purposes} {...at(charge, 'purpose')} />
      <ChoiceField label="How it is reckoned" choices={chargeKinds} {...at(charge, 'kind')} />
      <ChargeFigures form={form} charge={charge} />
      <details className="wide">
        <summary>Other currency</summary>
        <div className="fields">
          <CurrencyField
            label="Currency of the rate"
            hint={`Empty: ${form.value.currency === '' ? 'the contract’s' : form.value.currency}.`}
            {...at(charge, 'currency')}
          />
        </div>
      </details>
    </Clause>
  );
}

function ChargeFigures(props: { form: Binding<TermsDraft>; charge: Binding<ChargeDraft> }) {
  const { form, charge } = props;
  const { kind, unit, basis, onlyBelow } = charge.value;
  const currency = charge.value.currency === '' ? form.value.currency : charge.value.currency;
  const bases = massBases(form.value.weights.kind, basis);
  const mass = (
    <>
      <ChoiceField label="Mass it is charged on" choices={bases} {...at(charge, 'basis')} />
      <ChoiceField label="Rate per" choices={massUnits} {...at(charge, 'unit')} />
    </>
  );
  const least = (
    <NumberField label="At least" unit={currency} hint="Empty: no minimum." {...at(charge, 'minimum')} />
  );
  const amount = <NumberField label="Amount" unit={currency} required min={-1e9} {...at(charge, 'amount')} />;
  switch (kind) {
    case 'per-mass':
      return (
        <>
          <NumberField
            label="Rate"
            unit={`${currency}/${unit}`}
            required
            min={-1e9}
            {...at(charge, 'rate')}
          />
          {mass}
          {least}
          <EscalatorFields
            escalators={at(charge, 'escalators')}
            of="this charge"
            rateUnit={`${currency}/${unit}`}
            currency={form.value.currency}
            metals={form.value.metals}
          />
        </>
      );
    case 'flat': {
      const limit = at(charge, 'onlyBelow');
      return (
        <>
          {amount}
          <ChoiceField
            label="Charged for"
            choices={[
              { value: 'parcel', label: 'The parcel' },
              { value: 'piece', label: 'Each sublot or bar' },
            ]}
            {...at(charge, 'per')}
          />
          <NumberField
            label="Only below a mass of"
            unit={onlyBelow.unit}
            min={0.000001}
            hint="Empty: always charged."
            {...at(limit, 'mass')}
          />
          {onlyBelow.mass === '' ? null : (
            <>
              <ChoiceField
                label="Mass that decides"
                choices={massBases(form.value.weights.kind, onlyBelow.basis)}
                {...at(limit, 'basis')}
              />
              <ChoiceField label="Unit of the mass" choices={massUnits} {...at(limit, 'unit')} />
            </>
          )}
        </>
      );
    }
    case 'per-started-lot':
      return (
        <>
          {amount}
          <NumberField
            label="For every started"
            unit={unit}
            required
            min={0.000001}
            {...at(charge, 'mass')}
          />
          {mass}
        </>
      );
    case 'by-value':
      return (
        <>
          {mass}
          <BracketFields
            brackets={at(at(charge, 'brackets'), 'brackets')}
            levelUnit={`${form.value.currency}/${unit}`}
            rateUnit={`${currency}/${unit}`}
          />
        </>
      );
    case 'by-level':
      return (
        <>
          {mass}
          <LevelFields form={form} charge={charge} />
          {least}
        </>
      );
    case 'share-of-value':
      return (
        <>
          <NumberField label="Share" unit="%" required max={100} {...at(charge, 'shareFrac')} />
          <NumberField
            label="Of so much of the payable value"
            unit="%"
            required
            min={0.000001}
            hint="100; insurance is often on 110."
            {...at(charge, 'ofFrac')}
          />
          {least}
        </>
      );
  }
}

/** What the rate goes by: the grade of elements together, the price of a metal, or the mass of the parcel. */
function LevelFields(props: { form: Binding<TermsDraft>; charge: Binding<ChargeDraft> }) {
  const { form, charge } = props;
  const level = at(charge, 'level');
  const { kind, unit, metal, massUnit } = level.value;
  const { currency, metals } = form.value;
  const priced = [...new Set([...metals.map((one) => one.metal), metal])].filter((one) => one !== '');
  const priceUnit = metals.find((one) => one.metal === metal)?.price.unit ?? '';
  return (
    <>
      <ChoiceField
        label="The rate goes by"
        choices={[
          { value: 'grade', label: 'A grade' },
          { value: 'price', label: 'The price of a metal' },
          { value: 'mass', label: 'The mass of the parcel' },
        ]}
        {...at(level, 'kind')}
      />
      {kind === 'price' ? (
        <ChoiceField
          label="Price of"
          required
          choices={priced.map((one) => ({ value: one, label: one }))}
          {...at(level, 'metal')}
        />
      ) : kind === 'mass' ? (
        <>
          <ChoiceField
            label="Mass that decides"
            choices={massBases(form.value.weights.kind, level.value.basis)}
            {...at(level, 'basis')}
          />
          <ChoiceField label="Its unit" choices={massUnits} {...at(level, 'massUnit')} />
        </>
      ) : (
        <>
          <ChoiceField label="Grades in" choices={gradeUnits} {...at(level, 'unit')} />
          <ElementsField
            label="Grade of"
            hint="Several count together. An element that is missing here needs a rule under Assays first."
            elements={at(level, 'elements')}
            offered={assayedElements(form.value)}
          />
        </>
      )}
      <LadderFields
        ladder={at(charge, 'ladder')}
        levelUnit={
          kind === 'price' ? `${currency}/${priceUnit}` : kind === 'mass' ? massUnit : gradeSign(unit)
        }
        rateUnit={`${charge.value.currency === '' ? currency : charge.value.currency}/${charge.value.unit}`}
      />
    </>
  );
}
