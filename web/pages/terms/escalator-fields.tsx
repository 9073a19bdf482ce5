import { useState } from 'react';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { countings } from './charge-choices.ts';
import { emptyBand } from './draft-of-clauses.ts';
import type { EscalatorDraft, EscalatorSideDraft, MetalDraft } from './terms-draft.ts';

/** How a charge moves with the price of a metal. */
export function EscalatorFields(props: {
  escalators: Binding<EscalatorDraft[]>;
  of: string;
  rateUnit: string;
  currency: string;
  metals: readonly MetalDraft[];
}) {
  const { escalators, of, rateUnit, currency, metals } = props;
  const [open] = useState(escalators.value.length > 0);
  const newEscalator = (): EscalatorDraft => ({
    metal: metals[0]?.metal ?? '',
    up: { counting: 'pro-rata', bands: [emptyBand] },
    down: { counting: 'pro-rata', bands: [] },
    maximumIncrease: '',
    maximumDecrease: '',
  });
  return (
    <details className="wide" open={open}>
      <summary>Escalators of {of}</summary>
      <RowsField
        legend="Escalators"
        hint={`How ${of} rises or falls with the price of a metal.`}
        rows={escalators}
        newRow={newEscalator}
        rowName="escalator"
      >
        {(escalator) => {
          const metal = metals.find((one) => one.metal === escalator.value.metal);
          const priceUnit = `${currency}/${metal?.price.unit ?? ''}`;
          return (
            <>
              <ChoiceField
                label="With the price of"
                required
                choices={metals.map((one) => ({ value: one.metal, label: one.metal }))}
                {...at(escalator, 'metal')}
              />
              <NumberField
                label="Rises by no more than"
                unit={rateUnit}
                hint="Empty: not limited."
                {...at(escalator, 'maximumIncrease')}
              />
              <NumberField
                label="Falls by no more than"
                unit={rateUnit}
                hint="Empty: not limited."
                {...at(escalator, 'maximumDecrease')}
              />
              <Side
                legend="Rises"
                rowName="rise"
                side={at(escalator, 'up')}
                level="For a price above"
                priceUnit={priceUnit}
                rateUnit={rateUnit}
              />
              <Side
                legend="Falls"
                rowName="fall"
                side={at(escalator, 'down')}
                level="For a price below"
                priceUnit={priceUnit}
                rateUnit={rateUnit}
              />
            </>
          );
        }}
      </RowsField>
    </details>
  );
}

function Side(props: {
  legend: string;
  rowName: string;
  side: Binding<EscalatorSideDraft>;
  level: string;
  priceUnit: string;
  rateUnit: string;
}) {
  const { legend, rowName, side, level, priceUnit, rateUnit } = props;
  return (
    <>
      <RowsField legend={legend} rows={at(side, 'bands')} newRow={() => emptyBand} rowName={rowName}>
        {(band) => (
          <>
            <NumberField label={level} unit={priceUnit} required {...at(band, 'from')} />
            <NumberField label="For every" unit={priceUnit} required min={0.00000001} {...at(band, 'step')} />
            <NumberField label="By" unit={rateUnit} required {...at(band, 'rate')} />
          </>
        )}
      </RowsField>
      {side.value.bands.length === 0 ? null : (
        <ChoiceField label={`${legend}: steps count`} choices={countings} {...at(side, 'counting')} />
      )}
    </>
  );
}
