import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useOwner } from '../../lib/owner.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { elementChoices, gradeSign, payableOrders, refinings } from './choices.ts';
import { metalDraft } from './draft-of-metals.ts';
import { figureWriter } from '../../lib/typed-figures.ts';
import { EscalatorFields } from './escalator-fields.tsx';
import { PayableFormFields } from './payable-form-fields.tsx';
import { PriceFields } from './price-fields.tsx';
import { Clause, ListRemarks } from './reading.tsx';
import { RoundingFields } from './rounding-fields.tsx';
import type { MetalDraft, TermsDraft } from './terms-draft.ts';
import { newMetal } from './usual-terms.ts';

/** What is paid for each metal, at what price, and what its refining costs. */
export function MetalFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  const owner = useOwner();
  const isDore = form.value.weights.kind === 'melt';
  return (
    <>
      <RowsField
        legend="Payable metals"
        rows={at(form, 'metals')}
        newRow={() => metalDraft(newMetal('', isDore), figureWriter(owner))}
        rowName="metal"
      >
        {(metal, index) => <OneMetal form={form} metal={metal} index={index} />}
      </RowsField>
      <ListRemarks path="/metals" />
    </>
  );
}

function OneMetal(props: { form: Binding<TermsDraft>; metal: Binding<MetalDraft>; index: number }) {
  const { form, metal, index } = props;
  const { currency, metals, assays } = form.value;
  const sign = gradeSign(assays.find((rule) => rule.element === metal.value.metal)?.unit);
  const refining = at(metal, 'refining');
  const { unit } = metal.value.price;
  return (
    <Clause
      title={metal.value.metal === '' ? 'New metal' : `Payment for ${metal.value.metal}`}
      paths={[`/metals/${index}`]}
      says={['Payment for ']}
      only={(terms) => ({ ...terms, metals: terms.metals.slice(index, index + 1) })}
    >
      <ChoiceField
        label="Metal"
        required
        choices={elementChoices(metal.value.metal)}
        {...at(metal, 'metal')}
      />
      <NumberField
        label="Nothing is paid below"
        unit={sign}
        hint="Empty: no threshold."
        {...at(metal, 'minimumGrade')}
      />
      <PayableFormFields form={at(metal, 'form')} sign={sign} assays={assays} />
      <NumberField
        label="Least deduction"
        unit={sign}
        hint="At least so much of the assay is not paid, whatever the form. Empty: none."
        {...at(metal, 'minimumDeduction')}
      />
      <PriceFields price={at(metal, 'price')} currency={currency} gradeUnit={sign} />
      <ChoiceField label="Refining charge" choices={refinings} {...at(refining, 'kind')} />
      {refining.value.kind === 'none' ? null : (
        <>
          <NumberField
            label="Refining charge, rate"
            unit={`${currency}/${unit}`}
            required
            {...at(refining, 'rate')}
          />
          <EscalatorFields
            escalators={at(refining, 'escalators')}
            of="the refining charge"
            rateUnit={`${currency}/${unit}`}
            currency={currency}
            metals={metals}
          />
        </>
      )}
      <details className="wide">
        <summary>Order of working and rounding of this metal</summary>
        <div className="fields">
          <ChoiceField
            label="The payable form is applied to"
            choices={payableOrders}
            {...at(metal, 'order')}
          />
          <CheckField label="This metal has its own rounding" {...at(metal, 'ownRounding')} />
          {metal.value.ownRounding ? <RoundingFields of="Metal" rounding={at(metal, 'rounding')} /> : null}
        </div>
      </details>
    </Clause>
  );
}
