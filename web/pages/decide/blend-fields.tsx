import type { Lot } from '../../../api/schemas/lot.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useFormat } from '../../lib/owner.ts';
import type { LotsAtHand } from '../../lib/use-lots.ts';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { LotField } from '../lots/lot-field.tsx';
import type { OtherLot } from './blend-address.ts';
import { readOthers, writeOthers } from './blend-address.ts';

/** The lots that are blended with the first, and how much of each. */
export function BlendFields(props: {
  first: Pick<Lot, 'id'>;
  from: LotsAtHand;
  written: string;
  set: (written: string) => void;
}) {
  const { first, from, written, set } = props;
  const { lots } = from;
  const format = useFormat();
  const others = readOthers(written);
  const rows: Binding<OtherLot[]> = {
    pointer: '/with',
    value: others,
    onChange: (next) => set(writeOthers(next)),
    update: (change) => set(writeOthers(change(others))),
  };
  const free = lots.filter(({ id }) => id !== first.id && others.every(({ lotId }) => lotId !== id));
  return (
    <RowsField
      legend="Blended with"
      hint="Other lots can be mixed in. Without any, the lot is decided about by itself."
      rows={rows}
      newRow={() => ({ lotId: free[0]?.id ?? '', mass: '' })}
      rowName="lot"
      max={from.more ? 9 : Math.min(9, others.length + free.length)}
    >
      {(row) => {
        const lot = lots.find(({ id }) => id === row.value.lotId);
        return (
          <>
            <LotField
              label="Lot"
              {...at(row, 'lotId')}
              from={from}
              only={({ id }) =>
                id === row.value.lotId || (id !== first.id && others.every(({ lotId }) => lotId !== id))
              }
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
