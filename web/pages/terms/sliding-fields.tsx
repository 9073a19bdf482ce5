import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { gradeSign, simpleForms } from './choices.ts';
import type { AssayDraft, MetalDraft } from './terms-draft.ts';

type Form = MetalDraft['form'];

/** The unit of the grade that chooses a step or slides a figure. */
export const chooserSign = ({ by }: Form, ownSign: string, assays: readonly AssayDraft[]): string =>
  by === '' ? ownSign : gradeSign(assays.find((rule) => rule.element === by)?.unit);

/** Whose grade chooses: the metal's own, or another element's, as gold paid by the grade of copper. */
export function ChooserField(props: { form: Binding<Form>; assays: readonly AssayDraft[] }) {
  const { form, assays } = props;
  const { by } = form.value;
  const elements = new Set([...assays.map((rule) => rule.element), by].filter((element) => element !== ''));
  return (
    <ChoiceField
      label="By the grade of"
      none="This metal"
      choices={[...elements].map((element) => ({ value: element, label: element }))}
      {...at(form, 'by')}
    />
  );
}

/** The part paid or the deduction, changing with a grade: a recovery schedule. */
export function SlidingFields(props: { form: Binding<Form>; sign: string; assays: readonly AssayDraft[] }) {
  const { form, sign, assays } = props;
  const start = at(form, 'form');
  const isPaid = form.value.slides === 'paidFrac';
  const unit = isPaid ? '%' : sign;
  const levelSign = chooserSign(form.value, sign, assays);
  return (
    <>
      <ChoiceField label="Form" choices={simpleForms} {...at(start, 'kind')} />
      <NumberField label="Paid" unit="% of the assay" required max={100} {...at(start, 'paidFrac')} />
      <NumberField label="Deduction" unit={sign} required {...at(start, 'deduction')} />
      <ChoiceField
        label="What slides"
        choices={[
          { value: 'paidFrac', label: 'The percent paid' },
          { value: 'deduction', label: 'The deduction' },
        ]}
        {...at(form, 'slides')}
      />
      <ChooserField form={form} assays={assays} />
      <NumberField label="The figures above hold at" unit={levelSign} required {...at(form, 'fromGrade')} />
      <NumberField label="For every" unit={levelSign} required min={0.00000001} {...at(form, 'step')} />
      <NumberField
        label="It changes by"
        unit={unit}
        required
        min={-1e9}
        hint="Below zero it falls as the grade rises. Below the grade above it goes the other way."
        {...at(form, 'change')}
      />
      <ChoiceField
        label="Steps count"
        choices={[
          { value: 'pro-rata', label: 'Fractions in proportion' },
          { value: 'whole-steps', label: 'Whole steps only' },
        ]}
        {...at(form, 'counting')}
      />
      <NumberField label="No less than" unit={unit} hint="Empty: zero." {...at(form, 'minimum')} />
      <NumberField
        label="No more than"
        unit={unit}
        hint={isPaid ? 'Empty: 100 %.' : 'Empty: not limited.'}
        {...at(form, 'maximum')}
      />
    </>
  );
}
