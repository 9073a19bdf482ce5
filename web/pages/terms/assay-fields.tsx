import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useOwner } from '../../lib/owner.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import {
  assaySettlements,
  elementChoices,
  gradeSign,
  gradeUnits,
  parties,
  umpireCosts,
  umpireRules,
} from './choices.ts';
import { assayDraft } from './draft-of-metals.ts';
import { figureWriter } from '../../lib/typed-figures.ts';
import { Clause } from './reading.tsx';
import { RoundingFields } from './rounding-fields.tsx';
import type { AssayDraft, TermsDraft } from './terms-draft.ts';
import { exchangedAssay } from './usual-terms.ts';

/** Whose result counts for each element, and when an umpire is called. */
export function AssayFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  const owner = useOwner();
  const newRule = (): AssayDraft =>
    form.value.weights.kind === 'melt'
      ? assayDraft(
          { ...exchangedAssay('', 'fineness', 1, ''), settledBy: { kind: 'buyer' } },
          figureWriter(owner),
        )
      : assayDraft(exchangedAssay('', 'percent', 2, ''), figureWriter(owner));
  return (
    <RowsField
      legend="Assays"
      hint="Every element that is paid for or penalized needs a rule here."
      rows={at(form, 'assays')}
      newRow={newRule}
      rowName="assay"
    >
      {(rule, index) => <AssayRuleFields rule={rule} index={index} currency={form.value.currency} />}
    </RowsField>
  );
}

function AssayRuleFields(props: { rule: Binding<AssayDraft>; index: number; currency: string }) {
  const { rule, index, currency } = props;
  const settledBy = at(rule, 'settledBy');
  return (
    <Clause
      title={rule.value.element === '' ? 'New assay' : `Assay of ${rule.value.element}`}
      paths={[`/assays/${index}`]}
      says={['Assay of ']}
      only={(terms) => ({ ...terms, assays: terms.assays.slice(index, index + 1) })}
    >
      <ChoiceField
        label="Element"
        required
        choices={elementChoices(rule.value.element)}
        {...at(rule, 'element')}
      />
      <ChoiceField label="Unit" choices={gradeUnits} {...at(rule, 'unit')} />
      <ChoiceField label="Settled by" choices={assaySettlements} {...at(settledBy, 'kind')} />
      {settledBy.value.kind === 'exchange' ? (
        <ExchangeFields settledBy={settledBy} sign={gradeSign(rule.value.unit)} currency={currency} />
      ) : null}
      <details className="wide">
        <summary>Rounding of this assay</summary>
        <div className="fields">
          <RoundingFields of="Assay" rounding={at(rule, 'rounding')} />
        </div>
      </details>
    </Clause>
  );
}

function ExchangeFields(props: {
  settledBy: Binding<AssayDraft['settledBy']>;
  sign: string;
  currency: string;
}) {
  const { settledBy, sign, currency } = props;
  const umpire = at(settledBy, 'umpire');
  const limits = at(settledBy, 'splittingLimits');
  return (
    <>
      <RowsField
        legend="Splitting limits"
        hint="Up to this difference the mean counts. One line from grade 0 is usual; more lines for higher grades."
        rows={limits}
        newRow={() => ({ fromGrade: '', limit: '', relativeFrac: '' })}
        rowName="splitting limit"
        min={1}
      >
        {(limit) => (
          <>
            <NumberField label="From a grade of" unit={sign} required {...at(limit, 'fromGrade')} />
            <NumberField label="Limit" unit={sign} required {...at(limit, 'limit')} />
            <NumberField
              label="Or a part of the mean"
              unit="%"
              max={100}
              hint="The greater of both counts. Empty: none."
              {...at(limit, 'relativeFrac')}
            />
          </>
        )}
      </RowsField>
      <ChoiceField label="Beyond it, the umpire’s rule" choices={umpireRules} {...at(umpire, 'rule')} />
      <ChoiceField label="Umpire’s cost is borne by" choices={umpireCosts} {...at(umpire, 'costBorneBy')} />
      <NumberField
        label="Umpire’s cost"
        unit={currency}
        hint="Empty: not agreed beforehand."
        {...at(umpire, 'cost')}
      />
      {umpire.value.cost === '' ? null : (
        <ChoiceField label="Paid first by" choices={parties} {...at(umpire, 'advancedBy')} />
      )}
      <CheckField
        label="A party that does not exchange in time is bound by the other’s result"
        {...at(settledBy, 'absentPartyBound')}
      />
    </>
  );
}
