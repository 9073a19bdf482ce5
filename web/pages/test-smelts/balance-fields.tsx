import { useState } from 'react';
import { balanceRepeatability } from '../../../api/calc/assay/balance-check.ts';
import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { editableText } from '../../lib/parse-decimal.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { isNew, readNumber, sameBalance } from './smelt-draft.ts';
import type { BalanceDraft, SmeltDraft } from './smelt-draft.ts';

/** Which balance weighed; one that is not in the books yet is entered here. */
export function BalanceChoice(props: {
  form: Binding<SmeltDraft>;
  of: 'sample' | 'bead';
  balances: readonly BalanceRecord[];
}) {
  const { form, of, balances } = props;
  const [idField, newField] =
    of === 'sample'
      ? (['sampleBalanceId', 'newSampleBalance'] as const)
      : (['beadBalanceId', 'newBeadBalance'] as const);
  const choices = [
    ...balances.map((one) => ({ value: one.id, label: one.name })),
    ...(of === 'bead' && form.value.sampleBalanceId === isNew
      ? [{ value: sameBalance, label: 'The same new balance as for the sample' }]
      : []),
    {
      value: isNew,
      label: balances.length === 0 ? 'A balance, entered here' : 'Another balance, entered here',
    },
  ];
  return (
    <>
      <ChoiceField
        label={of === 'sample' ? 'Balance for sample and charge' : 'Balance for bead and gold'}
        required
        choices={choices}
        {...at(form, idField)}
      />
      {form.value[idField] === isNew ? <BalanceFields form={at(form, newField)} of={of} /> : null}
    </>
  );
}

/** A new balance: how finely it reads and how well it repeats. */
function BalanceFields(props: { form: Binding<BalanceDraft>; of: 'sample' | 'bead' }) {
  const { form, of } = props;
  const [readings, setReadings] = useState('');
  const owner = useOwner();
  const format = useFormat();
  const readingsG = readings
    .split(/[\s;]+/)
    .filter((text) => text !== '')
    .map((text) => readNumber(text, owner));
  const readable = readingsG.filter((one): one is number => one !== null);
  const worked =
    readable.length === readingsG.length
      ? balanceRepeatability({
          readingsG: readable,
          readabilityG: readNumber(form.value.readabilityG, owner) ?? 0,
        })
      : null;
  return (
    <>
      <TextField
        label="Name of the balance"
        required
        maxLength={120}
        hint={of === 'sample' ? 'For example: bench balance.' : 'For example: bead balance.'}
        {...at(form, 'name')}
      />
      <NumberField
        label="Readability"
        unit="g"
        required
        min={0.0000001}
        max={1000}
        decimals={8}
        hint="The smallest step of its display, for example 0.01."
        {...at(form, 'readabilityG')}
      />
      <NumberField
        label="Repeatability"
        unit="g"
        required
        max={1000}
        decimals={8}
        hint="Standard deviation of weighing one thing again and again; the maker states it. About the readability if you do not know it."
        {...at(form, 'repeatabilityG')}
      />
      <details className="wide">
        <summary>Work the repeatability out from readings</summary>
        <TextField
          label="Readings of one thing, g"
          lines={2}
          hint="Weigh it ten times, taking it off in between; a blank between readings."
          value={readings}
          onChange={setReadings}
        />
        {worked === null ? (
          <p className="muted">Two readings are the least.</p>
        ) : (
          <>
            <p role="status">
              Standard deviation of {readable.length} readings: {format.significant(worked.repeatabilityG, 2)}{' '}
              g.{' '}
              <button
                type="button"
                onClick={() =>
                  at(form, 'repeatabilityG').onChange(
                    editableText(Number(worked.repeatabilityG.toPrecision(2)), owner),
                  )
                }
              >
                Take it
              </button>
            </p>
            <FindingList findings={worked.findings} />
          </>
        )}
      </details>
    </>
  );
}
