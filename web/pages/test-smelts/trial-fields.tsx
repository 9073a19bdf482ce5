import type { TrialWithSmelts } from '../../../api/schemas/test-smelt.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import { useQueryClient } from '@tanstack/react-query';
import { trialsOfLotsQuery } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import type { LotsAtHand } from '../../lib/use-lots.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { LotField } from '../lots/lot-field.tsx';
import { isNew } from './smelt-draft.ts';
import type { SmeltDraft } from './smelt-draft.ts';

/** The number after the highest that a trial's tests have; '' where they are not numbered. */
export function nextSample(trial: TrialWithSmelts | undefined): string {
  if (trial === undefined) return '1';
  const numbers = trial.smelts.map(({ sample }) => (/^\d+$/.test(sample) ? Number(sample) : 0));
  return String(Math.max(0, ...numbers) + 1);
}

/** Which lot, which trial, which test of it. */
export function TrialFields(props: {
  form: Binding<SmeltDraft>;
  from: LotsAtHand;
  trials: readonly TrialWithSmelts[];
  treatments: readonly Treatment[];
}) {
  const { form, from, trials, treatments } = props;
  const client = useQueryClient();
  const { lotId, trialId } = form.value;
  const ofLot = trials.filter((trial) => trial.lotId === lotId);
  const treatmentOf = (id: string): Treatment | undefined => treatments.find((one) => one.id === id);

  /** The test's number follows the trial, unless the owner has named it. */
  function sampleFor(draft: SmeltDraft, next: TrialWithSmelts | undefined): string {
    const before = trials.find((trial) => trial.id === draft.trialId);
    const untouched = draft.sample === '' || draft.sample === nextSample(before);
    return untouched ? nextSample(next) : draft.sample;
  }
  function chooseTrial(draft: SmeltDraft, id: string, known = trials): SmeltDraft {
    const trial = known.find((one) => one.id === id);
    const treatment = treatmentOf(trial?.treatmentId ?? '');
    return {
      ...draft,
      trialId: id,
      sample: sampleFor(draft, trial),
      roasted: treatment === undefined ? draft.roasted : treatment.roast,
    };
  }
  /** The trials of the lot come first, so that the fields stand still while they are asked for. */
  function chooseLot(id: string): void {
    const choose = (known: readonly TrialWithSmelts[]): void =>
      form.update((draft) => {
        const [only, ...more] = known;
        const next = { ...draft, lotId: id };
        if (only === undefined) return chooseTrial(next, isNew, known);
        return more.length === 0 ? chooseTrial(next, only.id, known) : { ...next, trialId: '' };
      });
    void client.fetchQuery(trialsOfLotsQuery([id])).then(choose, () => choose([]));
  }
  return (
    <Fieldset legend="Which test">
      <LotField label="Lot" required from={from} {...at(form, 'lotId')} onChange={chooseLot} />
      {lotId === '' ? null : (
        <ChoiceField
          label="Trial"
          required
          hint="A trial is one recipe on one lot; its tests are replicates."
          choices={[
            ...ofLot.map((trial) => ({ value: trial.id, label: trial.name })),
            { value: isNew, label: 'A new trial' },
          ]}
          {...at(form, 'trialId')}
          onChange={(id) => form.update((draft) => chooseTrial(draft, id))}
        />
      )}
      {trialId === isNew ? (
        <>
          <ChoiceField
            label="Treatment it tries"
            none="None named"
            hint="Its recipe is offered for the charge, and the test counts for its recovery."
            choices={treatments
              .filter((one) => !one.retired)
              .map((one) => ({ value: one.id, label: one.name }))}
            {...at(form, 'newTrialTreatmentId')}
            onChange={(id) =>
              form.update((draft) => {
                const earlier = treatmentOf(draft.newTrialTreatmentId)?.name ?? '';
                const named = draft.newTrialName !== '' && draft.newTrialName !== earlier;
                const treatment = treatmentOf(id);
                return {
                  ...draft,
                  newTrialTreatmentId: id,
                  newTrialName: named ? draft.newTrialName : (treatment?.name ?? ''),
                  roasted: treatment?.roast ?? draft.roasted,
                };
              })
            }
          />
          <TextField label="Name of the trial" required maxLength={120} {...at(form, 'newTrialName')} />
        </>
      ) : null}
      <TextField
        label="Test"
        required
        maxLength={60}
        hint="Its number in the trial, or what is written on the bag."
        {...at(form, 'sample')}
      />
      <DateField label="Smelted on" required {...at(form, 'smeltedOn')} />
    </Fieldset>
  );
}
