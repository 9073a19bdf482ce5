import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import type { RoundingTerms } from '../../../api/calc/terms/terms.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { roundingRules } from './choices.ts';
import { Clause } from './reading.tsx';
import type { RoundingDraft, TermsDraft } from './terms-draft.ts';

/** How one kind of figure is rounded. `of` names it on the labels. */
export function RoundingFields(props: { of: string; rounding: Binding<RoundingDraft> }) {
  const { of, rounding } = props;
  return (
    <>
      <NumberField
        label={`${of}: decimals`}
        unit=""
        required
        max={12}
        decimals={0}
        {...at(rounding, 'decimals')}
      />
      <ChoiceField label={`${of}: rounding`} choices={roundingRules} {...at(rounding, 'rule')} />
      <NumberField
        label={`${of}: to multiples of`}
        unit=""
        hint="Empty: to the last decimal."
        {...at(rounding, 'multipleOf')}
      />
    </>
  );
}

const kinds: Record<keyof RoundingTerms, string> = {
  mass: 'Masses',
  moisture: 'Moisture, percent',
  payableGrade: 'Payable grades',
  payableMetal: 'Metal contained and payable',
  price: 'Prices',
  perTonneValue: 'Values per unit of mass',
  money: 'Money',
};

/** The contract's rounding and its own conversion factors. */
export function FactorAndRoundingFields(props: { form: Binding<TermsDraft> }) {
  const factors = at(props.form, 'factors');
  const rounding = at(props.form, 'rounding');
  return (
    <>
      <Clause paths={['/factors']} says={['Factors']}>
        <NumberField label="A troy ounce is" unit="g" required {...at(factors, 'ounceG')} />
        <NumberField label="A tonne is" unit="lb" required {...at(factors, 'poundsPerTonne')} />
        <NumberField label="A tonne is" unit="short tons" required {...at(factors, 'shortTonsPerTonne')} />
        <NumberField label="A tonne is" unit="long tons" required {...at(factors, 'longTonsPerTonne')} />
      </Clause>
      <Clause paths={['/rounding']} says={['Rounding']}>
        {(Object.keys(kinds) as (keyof RoundingTerms)[]).map((kind) => (
          <RoundingFields key={kind} of={kinds[kind]} rounding={at(rounding, kind)} />
        ))}
      </Clause>
    </>
  );
}
