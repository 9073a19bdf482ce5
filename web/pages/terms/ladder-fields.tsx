import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { countings, ladders, reached } from './charge-choices.ts';
import { emptyBand, emptyBracket } from './draft-of-clauses.ts';
import type { BracketDraft, LadderDraft } from './terms-draft.ts';

/** How a rate grows with a level: `levelUnit` for the level, `rateUnit` for the rate. */
export function LadderFields(props: { ladder: Binding<LadderDraft>; levelUnit: string; rateUnit: string }) {
  const { ladder, levelUnit, rateUnit } = props;
  const { kind } = ladder.value;
  return (
    <>
      <ChoiceField label="How the rate grows" choices={ladders} {...at(ladder, 'kind')} />
      {kind === 'bracket' ? (
        <BracketFields brackets={at(ladder, 'brackets')} levelUnit={levelUnit} rateUnit={rateUnit} />
      ) : (
        <>
          <ChoiceField label="Steps count" choices={countings} {...at(ladder, 'counting')} />
          <RowsField
            legend={kind === 'marginal' ? 'Above a level' : 'Below a level'}
            hint={
              kind === 'marginal'
                ? 'The first level is free. Further lines, in rising order, where the rate changes.'
                : 'The first level is free. Further lines, in falling order, where the rate changes.'
            }
            rows={at(ladder, 'bands')}
            newRow={() => emptyBand}
            rowName="band"
            min={1}
          >
            {(band) => (
              <>
                <NumberField
                  label={kind === 'marginal' ? 'Above' : 'Below'}
                  unit={levelUnit}
                  required
                  {...at(band, 'from')}
                />
                <NumberField
                  label="For every"
                  unit={levelUnit}
                  required
                  min={0.00000001}
                  {...at(band, 'step')}
                />
                <NumberField label="Rate" unit={rateUnit} required min={-1e9} {...at(band, 'rate')} />
              </>
            )}
          </RowsField>
        </>
      )}
    </>
  );
}

/** One rate by the bracket that a level reaches. */
export function BracketFields(props: {
  brackets: Binding<BracketDraft[]>;
  levelUnit: string;
  rateUnit: string;
}) {
  const { brackets, levelUnit, rateUnit } = props;
  return (
    <RowsField
      legend="Brackets"
      hint="In rising order. The rate of the last bracket reached counts for the whole."
      rows={brackets}
      newRow={() => emptyBracket}
      rowName="bracket"
      min={1}
    >
      {(bracket) => (
        <>
          <NumberField label="Level" unit={levelUnit} required {...at(bracket, 'from')} />
          <NumberField label="Rate" unit={rateUnit} required min={-1e9} {...at(bracket, 'rate')} />
          <ChoiceField label="Begins" choices={reached} {...at(bracket, 'reachedAt')} />
        </>
      )}
    </RowsField>
  );
}
