import { useDeferredValue, useMemo } from 'react';
import { useSuspenseQueries, useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { goldGptForSampling } from '../../../api/calc/facts/sampling-from-record.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import {
  balancesQuery,
  cupellationQuery,
  suppliesQuery,
  treatmentsQuery,
  trialsOfLotsQuery,
  useBooksChanged,
} from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { useLots } from '../../lib/use-lots.ts';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { BenchCautions } from './bench-cautions.tsx';
import { BalanceChoice } from './balance-fields.tsx';
import { balancesAtHand, suppliesAtHand } from './bench-facts.ts';
import { ChargeFields, RoastFields } from './charge-fields.tsx';
import { LiveResult, ToCome } from './live-result.tsx';
import { workLiveSmelt } from './live-smelt.ts';
import { BeadFields, ProductFields } from './product-fields.tsx';
import { saveSmelt } from './save-smelt.ts';
import { isNew, smeltSoFar } from './smelt-draft.ts';
import type { SmeltDraft } from './smelt-draft.ts';
import { NextFieldOnEnter } from './next-field.tsx';
import { StepPart, Steps } from './steps.tsx';
import { TrialFields } from './trial-fields.tsx';

/** A coarse bench balance, while it is not known which one weighs. */
const usualStepG = '0.1';

const chosenOf = (lotId: string): string[] => (lotId === '' ? [] : [lotId]);

/** A test smelt to enter or to go on with, worked up while it is typed. */
export function SmeltForm(props: {
  name: string;
  initial: SmeltDraft;
  record: TestSmeltRecord | null;
  /** The part of the form to go to; null for its start. */
  first: string | null;
}) {
  const { name, initial, record, first } = props;
  const [balances, cupellation, supplies, treatments] = useSuspenseQueries({
    queries: [balancesQuery, cupellationQuery, suppliesQuery, treatmentsQuery],
  });
  const owner = useOwner();
  const draft = useDraft(name, initial);
  const from = useLots([initial.lotId, draft.form.value.lotId]);
  const { lots } = from;
  const { data: trials } = useSuspenseQuery(trialsOfLotsQuery(chosenOf(draft.form.value.lotId)));
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const { form } = draft;
  const typed = useDeferredValue(form.value);
  const live = useMemo(() => {
    const lot = lots.find((one) => one.id === typed.lotId) ?? null;
    const record = smeltSoFar(typed, owner);
    return workLiveSmelt(record, {
      lot,
      samplingGoldGpt:
        lot &&
        goldGptForSampling(lot, [...trials.filter((trial) => trial.lotId === lot.id), { smelts: [record] }]),
      balances: balancesAtHand(balances.data, typed, owner),
      cupellation: cupellation.data,
      supplies: suppliesAtHand(supplies.data, typed),
    });
  }, [typed, owner, lots, trials, balances.data, cupellation.data, supplies.data]);
  const treatmentId =
    form.value.trialId === isNew
      ? form.value.newTrialTreatmentId
      : (trials.find((trial) => trial.id === form.value.trialId)?.treatmentId ?? '');
  const treatment = treatments.data.find((one) => one.id === treatmentId) ?? null;
  const soFar = smeltSoFar(form.value, owner);
  const lot = lots.find((one) => one.id === form.value.lotId) ?? null;
  const stepG =
    balancesAtHand(balances.data, form.value, owner).find(({ id }) => id === soFar.sampleBalanceId)
      ?.readabilityG ?? usualStepG;

  if (lots.length === 0)
    return (
      <p>
        A test smelt is of a lot, and none is entered yet. <Link to="/lots/new">Enter the lot first</Link>.
      </p>
    );
  return (
    <>
      <BenchCautions
        lot={lot}
        roasted={form.value.roasted}
        reagents={suppliesAtHand(supplies.data, form.value).filter(({ id }) =>
          soFar.reagents.some(({ supplyId }) => supplyId === id),
        )}
      />
      <DraftNote state={draft.state} discard={draft.discard} />
      <Steps first={first} />
      <Form
        sends="POST /test-smelts"
        draft={draft}
        saveLabel="Save the test smelt"
        onSave={async () => {
          const saved = await saveSmelt(form.value, record, owner);
          draft.saved();
          await booksChanged();
          await navigate({ to: '/test-smelts/$smeltId', params: { smeltId: saved.id } });
        }}
      >
        <NextFieldOnEnter>
          <TrialFields form={form} from={from} trials={trials} treatments={treatments.data} />
          <StepPart step="sample">
            <Fieldset legend="Sample">
              <NumberField
                label="Sample mass"
                unit="g"
                required
                min={0.000001}
                max={100_000}
                hint="Dry, as received, before any roast."
                {...at(form, 'sampleMassG')}
              />
              <BalanceChoice form={form} of="sample" balances={balances.data} />
              <BalanceChoice form={form} of="bead" balances={balances.data} />
            </Fieldset>
            <RoastFields form={form} />
          </StepPart>
          <StepPart step="charge">
            <ChargeFields
              form={form}
              treatment={treatment}
              supplies={supplies.data}
              stepG={stepG}
              live={live}
            />
          </StepPart>
          <StepPart step="furnace">
            <ProductFields form={form} live={live} />
          </StepPart>
          <StepPart step="bead">
            <BeadFields form={form} live={live} />
          </StepPart>
          <TextField label="Remarks" maxLength={2000} lines={3} {...at(form, 'remarks')} />
        </NextFieldOnEnter>
        <ToCome toCome={live.toCome} />
        <LiveResult live={live} />
      </Form>
    </>
  );
}
