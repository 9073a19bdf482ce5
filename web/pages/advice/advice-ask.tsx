import { treatmentKinds } from '../../../api/calc/smelting/advised-amount.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import { useFormat } from '../../lib/owner.ts';
import type { LotsAtHand } from '../../lib/use-lots.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { LotField } from '../lots/lot-field.tsx';
import type { Advice } from './advice-address.ts';
import { isWay } from './advice-address.ts';
import { collectorWords, wayWords } from './advice-words.ts';

/** What a recipe is wanted for. */
export function AdviceAsk(props: {
  from: LotsAtHand;
  lot: Lot;
  values: Advice;
  set: (name: keyof Advice, value: string) => void;
  /** Another way of working is another recipe: what was changed of the last one is put aside. */
  setWay: (name: 'way' | 'collector', value: string) => void;
}) {
  const { from, lot, values, set, setWay } = props;
  const format = useFormat();
  const typed = (name: 'button' | 'roasted' | 'power') => ({
    value: values[name],
    onChange: (text: string) => set(name, text),
  });
  const minerals =
    lot.minerals.length === 0
      ? 'Its minerals are not named yet.'
      : `${lot.minerals.map(({ mineral, massFrac }) => `${mineral} ${format.percent(massFrac)}`).join(', ')}.`;
  return (
    <Fieldset legend="What for">
      <LotField label="Lot" hint={minerals} value={lot.id} onChange={(id) => set('lot', id)} from={from} />
      <ChoiceField
        label="Smelted"
        value={isWay(values.way) ? values.way : 'as it is'}
        onChange={(way) => setWay('way', way)}
        choices={treatmentKinds.map((way) => ({ value: way, label: wayWords[way] }))}
      />
      <ChoiceField
        label="Collector"
        value={values.collector === 'litharge' ? 'litharge' : 'lead'}
        onChange={(collector) => setWay('collector', collector)}
        choices={(['lead', 'litharge'] as const).map((collector) => ({
          value: collector,
          label: collectorWords[collector],
        }))}
      />
      <NumberField
        label="Lead to collect with"
        unit="g per 100 g"
        required
        min={1}
        max={500}
        hint="About 30 is common practice."
        {...typed('button')}
      />
      {values.way === 'roasted' ? (
        <NumberField
          label="Sulfur driven off by the roast"
          unit="%"
          required
          max={100}
          hint="100 is a dead roast, to the end of smoking."
          {...typed('roasted')}
        />
      ) : null}
      <NumberField
        label="Reducing power, where assayed"
        unit="g lead per g"
        min={-20}
        max={20}
        hint="Of the raw lot, from a preliminary assay with litharge. Empty: reckoned from the minerals."
        {...typed('power')}
      />
    </Fieldset>
  );
}
