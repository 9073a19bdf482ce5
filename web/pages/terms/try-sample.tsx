import { useDeferredValue, useMemo } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { settle } from '../../../api/calc/settlement/settle.ts';
import type { Settlement } from '../../../api/calc/settlement/statement.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { rowOf } from '../../lib/row-binding.ts';
import { todayHere } from '../../lib/today.ts';
import { Fieldset } from '../../parts/fieldset.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { SettlementLines, SettlementTotal } from '../settlements/settlement-view.tsx';
import { gradeSign } from './choices.ts';
import { sampleAssays, sampleInput, samplePrices, sampleRates, startingSample } from './sample-parcel.ts';
import type { SampleDraft } from './sample-parcel.ts';
import { latestQuotationsQuery } from './terms-queries.ts';
import type { ReadTerms } from './terms-of-draft.ts';

/** What a parcel of the owner's choice would fetch under the contract as it stands, followed live. */
export function TrySample(props: { read: ReadTerms }) {
  const { read } = props;
  const owner = useOwner();
  const { data: quotations } = useSuspenseQuery(latestQuotationsQuery);
  // One sample for every contract, so that buyers can be compared on the same parcel.
  const { form } = useDraft('terms sample parcel', startingSample(owner));
  const sample = form.value;
  const question = useMemo(() => ({ read, sample }), [read, sample]);
  const asked = useDeferredValue(question);
  const settlement = useMemo((): Settlement | null => {
    if (asked.read.incomplete.length > 0) return null;
    const input = sampleInput({
      sample: asked.sample,
      terms: asked.read.terms,
      quotations,
      owner,
      today: todayHere(),
    });
    return input === null ? null : settle(input);
  }, [asked, quotations, owner]);
  const { direction } = read.terms;
  const missing =
    read.incomplete.length > 0
      ? 'The contract is not complete yet.'
      : 'Something in the sample cannot be read.';
  return (
    <>
      <section id="sample-parcel" aria-labelledby="sample-parcel-heading">
        <h2 id="sample-parcel-heading">What a sample parcel would fetch</h2>
        <SampleFields sample={form} terms={read.terms} />
        {settlement === null ? (
          <p>{missing}</p>
        ) : (
          <>
            <div role="status" className="sample-answer">
              <SettlementTotal settlement={settlement} direction={direction} />
            </div>
            <FindingList findings={settlement.findings.filter(({ path }) => !path.startsWith('/terms'))} />
            <details className="folded">
              <summary>Every line with its working</summary>
              <SettlementLines settlement={settlement} />
            </details>
          </>
        )}
      </section>
      <div className="live-bar">
        <a href="#sample-parcel">Sample parcel</a>
        {settlement === null ? (
          <p>{missing}</p>
        ) : (
          <SettlementTotal settlement={settlement} direction={direction} />
        )}
      </div>
    </>
  );
}

function SampleFields(props: { sample: Binding<SampleDraft>; terms: Terms }) {
  const { sample, terms } = props;
  const owner = useOwner();
  const { data: quotations } = useSuspenseQuery(latestQuotationsQuery);
  // Without a pointer: the sample is not part of what is saved.
  const bare = <Value,>({ value, onChange }: Binding<Value>) => ({ value, onChange });
  return (
    <Fieldset
      legend="Sample"
      hint="An invented parcel to try the contract on: both parties agree on the assays, and the prices are the last quoted. Put your own in. It is not saved with the terms."
    >
      {terms.weights.kind === 'melt' ? (
        <QuantityField label="Bar after melting" quantity="metalMassG" {...bare(at(sample, 'barMassG'))} />
      ) : (
        <>
          <QuantityField label="Wet mass" quantity="lotMassKg" {...bare(at(sample, 'wetMassKg'))} />
          <NumberField
            label="Moisture"
            unit="% of wet mass"
            max={99.99}
            {...bare(at(sample, 'moistureFrac'))}
          />
        </>
      )}
      {sampleAssays(sample.value, terms, owner).map((shown) => {
        const row = rowOf(at(sample, 'assays'), {
          is: (one) => one.element === shown.element && one.unit === shown.unit,
          shown,
          pointer: '',
        });
        return (
          <NumberField
            key={`${shown.element} ${shown.unit}`}
            label={`Assay of ${shown.element}`}
            unit={gradeSign(shown.unit)}
            {...bare(at(row, 'value'))}
          />
        );
      })}
      {samplePrices(sample.value, terms, quotations, owner).map((shown) => {
        const row = rowOf(at(sample, 'prices'), {
          is: (one) =>
            one.metal === shown.metal && one.unit === shown.unit && one.currency === shown.currency,
          shown,
          pointer: '',
        });
        return (
          <NumberField
            key={`${shown.metal} ${shown.unit}`}
            label={`Price of ${shown.metal}`}
            unit={`${shown.currency}/${shown.unit}`}
            {...bare(at(row, 'price'))}
          />
        );
      })}
      {sampleRates(sample.value, terms).map((shown) => {
        const row = rowOf(at(sample, 'rates'), {
          is: (one) => one.currency === shown.currency,
          shown,
          pointer: '',
        });
        return (
          <NumberField
            key={shown.currency}
            label={`One ${shown.currency} is`}
            unit={terms.currency}
            {...bare(at(row, 'rate'))}
          />
        );
      })}
    </Fieldset>
  );
}
