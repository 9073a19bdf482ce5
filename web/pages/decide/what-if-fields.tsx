import { Fieldset } from '../../parts/fieldset.tsx';
import { MoneyField } from '../../parts/money-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { useFormat } from '../../lib/owner.ts';
import { gramsPerTroyOunce } from '../../../api/calc/units.ts';
import type { WhatIf } from './what-if.ts';
import type { DecideAnswer } from '../../lib/decide-messages.ts';

/** The inputs an owner turns; empty keeps what the records say, which stands in the hint. */
export function WhatIfFields(props: {
  values: WhatIf;
  set: (name: keyof WhatIf, value: string) => void;
  reset: () => void;
  changed: boolean;
  prices: DecideAnswer['prices'] | null;
}) {
  const { values, set, reset, changed, prices } = props;
  const format = useFormat();
  const bound = (name: keyof WhatIf) => ({
    value: values[name],
    onChange: (typed: string) => set(name, typed),
  });
  const quoted = (name: 'gold' | 'silver', spot: number | undefined): string =>
    values[name] !== '' || spot === undefined
      ? 'Empty it to go back to the last quotation.'
      : `Empty: the last quotation, ${format.number(spot, 2)}. Per troy ounce (ozt) of ${gramsPerTroyOunce.toFixed(4)} g.`;
  return (
    <Fieldset
      legend="What if"
      hint="The answer follows as you type. An empty field keeps what the records say."
    >
      <MoneyField label="Gold price" per="ozt" hint={quoted('gold', prices?.Au.spot)} {...bound('gold')} />
      <MoneyField
        label="Silver price"
        per="ozt"
        hint={quoted('silver', prices?.Ag.spot)}
        {...bound('silver')}
      />
      <MoneyField label="Wage" per="h" {...bound('wage')} />
      <MoneyField label="Lead price" per="kg" {...bound('lead')} />
      <NumberField label="Fuel prices" unit="% of today’s" {...bound('fuel')} />
      <NumberField label="Reagent prices" unit="% of today’s" {...bound('reagents')} />
      <NumberField
        label="Gold recovery, all treatments"
        unit="% points"
        hint="Added to what the tests say; may be negative."
        min={-90}
        max={90}
        {...bound('recovery')}
      />
      <MoneyField
        label="Freight and assays of a sale"
        hint="What the buyer’s terms do not charge."
        {...bound('freight')}
      />
      {changed ? (
        <button type="button" onClick={reset}>
          Back to what the records say
        </button>
      ) : null}
    </Fieldset>
  );
}
