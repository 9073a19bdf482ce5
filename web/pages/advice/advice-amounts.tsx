import type { AdvisedAmount } from '../../../api/calc/smelting/advised-amount.ts';
import type { Reagent } from '../../../api/calc/smelting/reagents.ts';
import { reagentNames } from '../../../api/calc/smelting/reagents.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { Fieldset } from '../../parts/fieldset.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import type { Advice } from './advice-address.ts';
import { amountText, storedAmount } from './advice-address.ts';
import { reagentWord } from './advice-words.ts';

/** The recipe, proposed with a reason for each number, to be changed at will. */
export function AdviceAmounts(props: {
  proposed: readonly AdvisedAmount[];
  own: ReadonlyMap<Reagent, Supply>;
  values: Advice;
  set: (name: keyof Advice, value: string) => void;
  changed: boolean;
  reset: () => void;
}) {
  const { proposed, own, values, set, changed, reset } = props;
  const owner = useOwner();
  const format = useFormat();
  const field = (reagent: Reagent, advised: AdvisedAmount | undefined) => {
    const proposedG = advised?.gramsPerHundredG ?? 0;
    const notOwn = own.has(reagent) ? '' : ' Not among your supplies.';
    return (
      <NumberField
        key={reagent}
        label={reagentWord(reagent)}
        unit="g per 100 g"
        max={10_000}
        decimals={6}
        hint={
          advised === undefined
            ? `Not proposed.${notOwn}`
            : `Proposed: ${format.number(proposedG, 0)} g. Why: ${advised.why} Source: ${advised.source}.${notOwn}`
        }
        value={amountText(values[reagent], proposedG, owner)}
        onChange={(typed) => set(reagent, storedAmount(typed, proposedG, owner))}
      />
    );
  };
  const others = reagentNames.filter((reagent) => !proposed.some((one) => one.reagent === reagent));
  return (
    <>
      <Fieldset
        legend="Recipe for 100 g of concentrate, dry, as received"
        hint="A place to begin for a test smelt, not for a season. Change any number: what it does follows below."
      >
        {proposed.map((advised) => field(advised.reagent, advised))}
      </Fieldset>
      <details className="record-form" open={others.some((reagent) => values[reagent] !== '')}>
        <summary>Other reagents</summary>
        <Fieldset legend="Not proposed">{others.map((reagent) => field(reagent, undefined))}</Fieldset>
      </details>
      {changed ? (
        <p className="actions">
          <button type="button" onClick={reset}>
            Back to the proposed amounts
          </button>
        </p>
      ) : null}
    </>
  );
}
