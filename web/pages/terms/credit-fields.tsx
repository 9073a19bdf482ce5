import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useOwner } from '../../lib/owner.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { creditKinds } from './charge-choices.ts';
import { gradeSign, gradeUnits, massBases, massUnits } from './choices.ts';
import { creditDraft } from './draft-of-clauses.ts';
import { figureWriter } from '../../lib/typed-figures.ts';
import { ElementsField } from './elements-field.tsx';
import { LadderFields } from './ladder-fields.tsx';
import { assayedElements } from './penalty-fields.tsx';
import { Clause } from './reading.tsx';
import type { CreditDraft, TermsDraft } from './terms-draft.ts';

/** What is paid beyond the metals. */
export function CreditFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  const owner = useOwner();
  return (
    <RowsField
      legend="Credits"
      rows={at(form, 'credits')}
      newRow={() =>
        creditDraft(
          { kind: 'per-mass', name: '', rate: '', basis: 'settlement', massUnit: 'tonne' },
          figureWriter(owner),
        )
      }
      rowName="credit"
    >
      {(credit, index) => <OneCredit form={form} credit={credit} index={index} />}
    </RowsField>
  );
}

function OneCredit(props: { form: Binding<TermsDraft>; credit: Binding<CreditDraft>; index: number }) {
  const { form, credit, index } = props;
  const { kind, unit, basis, massUnit } = credit.value;
  const { currency, weights, metals } = form.value;
  const rateUnit = `${currency}/${massUnit}`;
  return (
    <Clause
      title={credit.value.name === '' ? 'New credit' : credit.value.name}
      paths={[`/credits/${index}`]}
      says={['Credits']}
      only={(terms) => ({ ...terms, credits: terms.credits.slice(index, index + 1) })}
    >
      <TextField label="Name" required maxLength={200} {...at(credit, 'name')} />
      <ChoiceField label="How it is reckoned" choices={creditKinds} {...at(credit, 'kind')} />
      <ChoiceField label="Rate per" choices={massUnits} {...at(credit, 'massUnit')} />
      {kind === 'assay-value' ? null : (
        <ChoiceField
          label="Mass it is paid on"
          choices={massBases(weights.kind, basis)}
          {...at(credit, 'basis')}
        />
      )}
      {kind === 'per-mass' ? (
        <NumberField label="Rate" unit={rateUnit} required min={-1e9} {...at(credit, 'rate')} />
      ) : null}
      {kind === 'component' ? (
        <>
          <ChoiceField label="Levels in" choices={gradeUnits} {...at(credit, 'unit')} />
          <ElementsField
            label="Elements"
            elements={at(credit, 'elements')}
            offered={assayedElements(form.value)}
          />
          <LadderFields ladder={at(credit, 'ladder')} levelUnit={gradeSign(unit)} rateUnit={rateUnit} />
        </>
      ) : null}
      {kind === 'assay-value' ? (
        <>
          <ElementsField
            label="Value of"
            elements={at(credit, 'metals')}
            offered={metals.map((metal) => metal.metal)}
          />
          <NumberField label="Above a value of" unit={rateUnit} required {...at(credit, 'above')} />
          <NumberField label="Share" unit="%" required max={100} {...at(credit, 'shareFrac')} />
        </>
      ) : null}
    </Clause>
  );
}
