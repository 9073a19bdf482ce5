import { useState } from 'react';
import type { Cupellation } from '../../../api/schemas/cupellation.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { decimalOf, editableText, shiftPoint } from '../../lib/parse-decimal.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';

const losses = [
  ['silverLossFrac', 'Silver lost'],
  ['silverLossStandardUncertaintyFrac', 'Standard uncertainty of the silver loss'],
  ['goldLossFrac', 'Gold lost'],
  ['goldLossStandardUncertaintyFrac', 'Standard uncertainty of the gold loss'],
] as const;

/** Whether and by what losses test smelts are corrected; typed in percent. */
export function CorrectionForm(props: { cupellation: Cupellation }) {
  const { cupellation } = props;
  const [version, setVersion] = useState(cupellation.version);
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const percent = (frac: number): string =>
    editableText(shiftPoint(editableText(frac, { decimalComma: false }), 2), owner);
  const draft = useDraft('cupellation', {
    correction: cupellation.correction,
    goldLossFrac: percent(cupellation.goldLossFrac),
    goldLossStandardUncertaintyFrac: percent(cupellation.goldLossStandardUncertaintyFrac),
    silverLossFrac: percent(cupellation.silverLossFrac),
    silverLossStandardUncertaintyFrac: percent(cupellation.silverLossStandardUncertaintyFrac),
  });
  const { form } = draft;
  const frac = (typed: string): number => Number(shiftPoint(decimalOf(typed, owner) ?? '0', -2));
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /cupellation"
        draft={draft}
        label="Correction for losses in cupelling"
        saveLabel="Save the correction"
        onSave={async () => {
          const { correction, ...typed } = form.value;
          const saved = await send(
            api.cupellation.$put({
              json: {
                correction,
                goldLossFrac: frac(typed.goldLossFrac),
                goldLossStandardUncertaintyFrac: frac(typed.goldLossStandardUncertaintyFrac),
                silverLossFrac: frac(typed.silverLossFrac),
                silverLossStandardUncertaintyFrac: frac(typed.silverLossStandardUncertaintyFrac),
                version,
              },
            }),
          );
          setVersion(saved.version);
          draft.saved();
          await booksChanged();
        }}
      >
        <Fieldset
          legend="Correction"
          hint="It moves every grade of the mill’s own test smelts. Where it is used, the test says so."
        >
          <ChoiceField
            label="Test smelts are"
            choices={[
              { value: 'off', label: 'not corrected' },
              { value: 'stated', label: 'corrected by the losses stated below' },
              { value: 'proofs', label: 'corrected by what my proofs show' },
            ]}
            {...at(form, 'correction')}
          />
        </Fieldset>
        <Fieldset legend="Losses stated" hint="They stand in, too, for a metal without a proof.">
          {losses.map(([field, label]) => (
            <NumberField
              key={field}
              label={label}
              unit="%"
              required
              max={99}
              decimals={6}
              {...at(form, field)}
            />
          ))}
        </Fieldset>
      </Form>
    </>
  );
}
