import { useState } from 'react';
import { keepPreviousData, useQuery, useQueryClient } from '@tanstack/react-query';
import type { Lot } from '../../../api/schemas/lot.ts';
import { CHOICES, namedLotQuery, soughtLotsQuery } from '../../lib/bench-queries.ts';
import type { LotsAtHand } from '../../lib/use-lots.ts';
import { useSettled } from '../../lib/use-settled.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import type { FieldProps } from '../../parts/field-frame.tsx';
import { TextField } from '../../parts/text-field.tsx';

/** `L-01: table concentrate`. */
export const lotLabel = ({ code, description }: Lot): string =>
  description === '' ? code : `${code}: ${description}`;

/** Chooses a lot: from a list of the newest, or, where there are more, from those that fit what is typed. */
export function LotField(
  props: FieldProps & {
    value: string;
    onChange: (id: string) => void;
    from: LotsAtHand;
    /** Only these can be chosen. */
    only?: (lot: Lot) => boolean;
    labelOf?: (lot: Lot) => string;
    none?: string;
  },
) {
  const { from, only = () => true, labelOf = lotLabel, onChange, ...field } = props;
  const [typed, setTyped] = useState('');
  const sought = useSettled(typed.trim());
  const client = useQueryClient();
  const { data: found } = useQuery({
    ...soughtLotsQuery(sought),
    enabled: sought !== '',
    placeholderData: keepPreviousData,
  });
  const isSought = sought !== '' && found !== undefined;
  const offered = (isSought ? found.rows : from.more ? from.lots.toReversed() : from.lots).filter(only);
  const chosen = from.lots.filter(
    (lot) => lot.id === field.value && !offered.some(({ id }) => id === lot.id),
  );
  return (
    <>
      {from.more ? (
        <TextField
          label={`Find ${field.label.charAt(0).toLowerCase()}${field.label.slice(1)}`}
          hint={
            isSought
              ? `${offered.length === 0 ? 'None fits' : offered.length === 1 ? 'One fits' : found.next === null ? `${offered.length} fit` : `The newest ${offered.length} that fit`}; choose below.`
              : `Part of its code or description. Below are the newest ${CHOICES}.`
          }
          maxLength={120}
          value={typed}
          onChange={setTyped}
        />
      ) : null}
      <ChoiceField
        {...field}
        onChange={(id) => {
          const lot = offered.find((one) => one.id === id);
          if (lot !== undefined) client.setQueryData(namedLotQuery(id).queryKey, lot);
          onChange(id);
        }}
        choices={[...chosen, ...offered].map((lot) => ({ value: lot.id, label: labelOf(lot) }))}
      />
    </>
  );
}
