import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { payableForms, simpleForms } from './choices.ts';
import { ChooserField, chooserSign, SlidingFields } from './sliding-fields.tsx';
import type { AssayDraft, MetalDraft } from './terms-draft.ts';

/** The payable part of the assay: one of three forms, or steps of them, or bands. */
export function PayableFormFields(props: {
  form: Binding<MetalDraft['form']>;
  sign: string;
  assays: readonly AssayDraft[];
}) {
  const { form, sign, assays } = props;
  return (
    <>
      <ChoiceField label="Payable form" choices={payableForms} {...at(form, 'kind')} />
      {form.value.kind === 'steps' ? (
        <>
          <ChooserField form={form} assays={assays} />
          <Steps form={form} sign={sign} levelSign={chooserSign(form.value, sign, assays)} />
        </>
      ) : form.value.kind === 'sliding' ? (
        <SlidingFields form={form} sign={sign} assays={assays} />
      ) : form.value.kind === 'bands' ? (
        <Bands form={form} sign={sign} />
      ) : (
        <>
          <NumberField label="Paid" unit="% of the assay" required max={100} {...at(form, 'paidFrac')} />
          <NumberField
            label="Deduction"
            unit={sign}
            required
            hint="0 where none is taken."
            {...at(form, 'deduction')}
          />
        </>
      )}
    </>
  );
}

function Steps(props: { form: Binding<MetalDraft['form']>; sign: string; levelSign: string }) {
  const { form, sign, levelSign } = props;
  return (
    <RowsField
      legend="Steps"
      hint="In rising order. The whole assay is paid by the last step that it reaches."
      rows={at(form, 'steps')}
      newRow={() => ({
        fromGrade: '',
        form: { kind: 'percent-then-unit' as const, paidFrac: '', deduction: '0' },
      })}
      rowName="step"
      min={1}
    >
      {(step) => (
        <>
          <NumberField label="From" unit={levelSign} required {...at(step, 'fromGrade')} />
          <NumberField label="Paid" unit="%" required max={100} {...at(at(step, 'form'), 'paidFrac')} />
          <NumberField label="Deduction" unit={sign} required {...at(at(step, 'form'), 'deduction')} />
          <ChoiceField label="Form" choices={simpleForms} {...at(at(step, 'form'), 'kind')} />
        </>
      )}
    </RowsField>
  );
}

function Bands(props: { form: Binding<MetalDraft['form']>; sign: string }) {
  const { form, sign } = props;
  return (
    <RowsField
      legend="Bands"
      hint="In rising order. Each part of the assay is paid at the percent of its own band."
      rows={at(form, 'bands')}
      newRow={() => ({ fromGrade: '', paidFrac: '' })}
      rowName="band"
      min={1}
    >
      {(band) => (
        <>
          <NumberField label="From" unit={sign} required {...at(band, 'fromGrade')} />
          <NumberField label="Paid" unit="%" required max={100} {...at(band, 'paidFrac')} />
        </>
      )}
    </RowsField>
  );
}
