import type { Supply } from '../../../api/schemas/supply.ts';
import { supplyKinds } from '../../../api/schemas/supply.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { Fieldset } from '../../parts/fieldset.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { kindWords } from './supply-words.ts';

export interface SupplyField {
  id: string;
  name: string;
  kind: Supply['kind'];
  unit: string;
  hint: string;
}

/** A number for each supply, by kind, close together: to go through a shelf or a price list with. */
export function FieldPerSupply(props: {
  supplies: readonly SupplyField[];
  /** What is typed, by the supply's id. */
  typed: Binding<Record<string, string>>;
  max: number;
  decimals?: number;
}) {
  const { supplies, typed, ...limits } = props;
  return supplyKinds.map((kind) => {
    const ofKind = supplies.filter((supply) => supply.kind === kind);
    return ofKind.length === 0 ? null : (
      <Fieldset key={kind} legend={kindWords[kind]} compact>
        {ofKind.map(({ id, name, unit, hint }) => (
          <NumberField
            key={id}
            label={name}
            unit={unit}
            hint={hint}
            {...limits}
            {...at(typed, id)}
            value={typed.value[id] ?? ''}
          />
        ))}
      </Fieldset>
    );
  });
}
