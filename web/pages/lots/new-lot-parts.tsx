import { Dec, sumOf } from '../../../api/calc/money.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { shownText, storedDecimal } from '../../lib/quantities.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import type { LotPartDraft } from './lot-draft.ts';
import { FindPart } from './find-part.tsx';
import { usePartChoices } from './part-choices.ts';

/** What a new lot is made from: all days that are not in a lot yet at one touch, or single days, lots and products. */
export function NewLotParts(props: { parts: Binding<LotPartDraft[]>; madeOn: string }) {
  const { parts, madeOn } = props;
  const owner = useOwner();
  const format = useFormat();
  const { choices: all, find } = usePartChoices();
  const choices = all.filter((one) => madeOn === '' || one.madeOn <= madeOn);
  const taken = new Set(parts.value.map(({ sourceId }) => sourceId));
  const days = choices.filter(({ value }) => value.startsWith('day:') && !taken.has(value));
  const leftOf = (value: string): string =>
    shownText('lotMassKg', choices.find((one) => one.value === value)?.leftKg ?? null, owner);
  const total = sumOf(
    parts.value.map(({ dryMassKg }) => {
      const parsed = parseDecimal(dryMassKg, owner);
      return parsed.ok && parsed.decimal !== null
        ? new Dec(storedDecimal('lotMassKg', parsed.decimal, owner))
        : new Dec(0);
    }),
  ).toFixed();
  return (
    <>
      <FindPart find={find} />
      <RowsField
        legend="Made from"
        hint="Days of the daily log; another lot, to split it; several lots, to blend them; or a product to be worked up again. Empty where it is not known."
        rows={parts}
        newRow={() => ({ sourceId: '', dryMassKg: '' })}
        rowName="part"
        max={400}
      >
        {(row) => (
          <>
            <ChoiceField
              label="From"
              required
              none="Choose"
              choices={choices
                .filter(({ value }) => value === row.value.sourceId || !taken.has(value))
                .map(({ value, label }) => ({ value, label }))}
              {...at(row, 'sourceId')}
              onChange={(value) => row.update(() => ({ sourceId: value, dryMassKg: leftOf(value) }))}
            />
            <QuantityField label="Dry mass taken" quantity="lotMassKg" required {...at(row, 'dryMassKg')} />
          </>
        )}
      </RowsField>
      {days.length === 0 ? null : (
        <p>
          <button
            type="button"
            onClick={() =>
              parts.update((list) => [
                ...list,
                ...days.map(({ value }) => ({ sourceId: value, dryMassKg: leftOf(value) })),
              ])
            }
          >
            {days.length === 1 ? 'Take the day' : `Take all ${days.length} days`} not in a lot yet
          </button>
        </p>
      )}
      {parts.value.length === 0 ? null : (
        <p role="status">
          Taken in all: {format.quantity('lotMassKg', total)} dry, to be held against the lot’s own weighing.
        </p>
      )}
    </>
  );
}
