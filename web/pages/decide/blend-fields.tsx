import type { Lot } from '../../../api/schemas/lot.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useFormat } from '../../lib/owner.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import type { OtherLot } from './blend-address.ts';
import { readOthers, writeOthers } from './blend-address.ts';

/** The lots that are blended with the first, and how much of each. */
export function BlendFields(props: {
  first: Pick<Lot, 'id'>;
  lots: readonly Lot[];
  written: string;
  set: (written: string) => void;
}) {
  const { first, lots, written, set } = props;
  const format = useFormat();
  const others = readOthers(written);
  const rows: Binding<OtherLot[]> = {
    pointer: '/with',
    value: others,
    onChange: (next) => set(writeOthers(next)),
    update: (change) => set(writeOthers(change(others))),
  };
  const free = lots.filter(({ id }) => id !== first.id && others.every(({ lotId }) => lotId !== id));
  const shownLots = (own: string) => lots.filter((lot) => lot.id === own || free.includes(lot));
  return (
    <RowsField
      legend="Blended with"
      hint="Other lots can be mixed in. Without any, the lot is decided about by itself."
      rows={rows}
      newRow={() => ({ lotId: free[0]?.id ?? '', mass: '' })}
      rowName="lot"
      max={Math.min(9, others.length + free.length)}
    >
      {(row) => {
        const lot = lots.find(({ id }) => id === row.value.lotId);
        return (
          <>
            <ChoiceField
              label="Lot"
              {...at(row, 'lotId')}
              choices={shownLots(row.value.lotId).map((one) => ({
                value: one.id,
                label: `${one.code}: ${one.description}`,
              }))}
            />
            <QuantityField
              label="Dry mass of it"
              quantity="lotMassKg"
              hint={
                lot === undefined
                  ? undefined
                  : `Empty: all that is left, ${format.quantity('lotMassKg', Number(lot.leftKg))}.`
              }
              {...at(row, 'mass')}
            />
          </>
        );
      }}
    </RowsField>
  );
}
