import { MOISTURE } from '../../../api/calc/terms/term-units.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useOwner } from '../../lib/owner.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { gradeSign, gradeUnits, massBases, massUnits } from './choices.ts';
import { penaltyDraft } from './draft-of-clauses.ts';
import { figureWriter } from '../../lib/typed-figures.ts';
import { ElementsField } from './elements-field.tsx';
import { LadderFields } from './ladder-fields.tsx';
import { Clause } from './reading.tsx';
import type { PenaltyDraft, TermsDraft } from './terms-draft.ts';
import { newPenalty } from './usual-terms.ts';

/** The elements of the assay rules, and the moisture where the material has one. */
export const assayedElements = ({ assays, weights }: TermsDraft): string[] => [
  ...assays.map((rule) => rule.element),
  ...(weights.kind === 'dry' ? [MOISTURE] : []),
];

/** Deductions for unwanted elements. */
export function PenaltyFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  const owner = useOwner();
  const isBars = form.value.weights.kind === 'melt';
  return (
    <RowsField
      legend="Penalties"
      rows={at(form, 'penalties')}
      newRow={() => penaltyDraft(newPenalty(isBars ? 'ozt' : 'tonne'), figureWriter(owner))}
      rowName="penalty"
    >
      {(penalty, index) => <OnePenalty form={form} penalty={penalty} index={index} />}
    </RowsField>
  );
}

function OnePenalty(props: { form: Binding<TermsDraft>; penalty: Binding<PenaltyDraft>; index: number }) {
  const { form, penalty, index } = props;
  const { unit, massUnit, basis } = penalty.value;
  return (
    <Clause
      title={penalty.value.name === '' ? 'New penalty' : penalty.value.name}
      paths={[`/penalties/${index}`]}
      says={['Penalties']}
      only={(terms) => ({ ...terms, penalties: terms.penalties.slice(index, index + 1) })}
    >
      <TextField label="Name" required maxLength={200} {...at(penalty, 'name')} />
      <ChoiceField label="Levels in" choices={gradeUnits} {...at(penalty, 'unit')} />
      <ElementsField
        label="Elements"
        hint="Several count together. An element that is missing here needs a rule under Assays first."
        elements={at(penalty, 'elements')}
        offered={assayedElements(form.value)}
      />
      <ChoiceField label="Rate per" choices={massUnits} {...at(penalty, 'massUnit')} />
      <ChoiceField
        label="Mass it is charged on"
        choices={massBases(form.value.weights.kind, basis)}
        {...at(penalty, 'basis')}
      />
      <LadderFields
        ladder={at(penalty, 'ladder')}
        levelUnit={gradeSign(unit)}
        rateUnit={`${form.value.currency}/${massUnit}`}
      />
      <NumberField
        label="May be refused above"
        unit={gradeSign(unit)}
        hint="Empty: never refused for it."
        {...at(penalty, 'refusedAbove')}
      />
    </Clause>
  );
}
