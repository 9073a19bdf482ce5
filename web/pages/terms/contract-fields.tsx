import { useState } from 'react';
import type { ReactNode } from 'react';
import type { Binding } from '../../lib/binding.ts';
import { AssayFields } from './assay-fields.tsx';
import { ChargeFields } from './charge-fields.tsx';
import { CreditFields } from './credit-fields.tsx';
import { MaterialFields, ValuationFields, WeightFields } from './general-fields.tsx';
import { MetalFields } from './metal-fields.tsx';
import { FurtherPaymentFields, PaymentFields } from './payment-fields.tsx';
import { PenaltyFields } from './penalty-fields.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { FactorAndRoundingFields } from './rounding-fields.tsx';
import { RoyaltyFields } from './royalty-fields.tsx';
import { TaxFields } from './tax-fields.tsx';
import type { TermsDraft } from './terms-draft.ts';

/** Clauses that few contracts have: folded in until they are used. */
function Folded(props: { summary: string; used: boolean; children: ReactNode }) {
  const { summary, used, children } = props;
  const [open] = useState(used);
  return (
    <details className="folded" open={open}>
      <summary>{summary}</summary>
      {children}
    </details>
  );
}

/** Every clause of a contract in the order in which a settlement is worked. */
export function ContractFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  const { value } = form;
  return (
    <>
      <MaterialFields form={form} />
      <WeightFields form={form} />
      <AssayFields form={form} />
      <MetalFields form={form} />
      <ChargeFields form={form} />
      <PenaltyFields form={form} />
      <Fieldset legend="Payment">
        <PaymentFields form={form} />
      </Fieldset>
      <h2>Further clauses</h2>
      <Folded
        summary="Second advance, interest, other currencies"
        used={
          value.secondProvisional.shareFrac !== '' ||
          value.interest.rateFrac !== '' ||
          value.paidIn !== '' ||
          value.exchangeRates.length > 0
        }
      >
        <FurtherPaymentFields form={form} />
      </Folded>
      <Folded summary="Credits" used={value.credits.length > 0}>
        <CreditFields form={form} />
      </Folded>
      <Folded summary="Royalties and production taxes" used={value.royalties.length > 0}>
        <RoyaltyFields form={form} />
      </Folded>
      <Folded summary="Sales and withholding taxes" used={value.taxes.length > 0}>
        <TaxFields form={form} />
      </Folded>
      <Folded summary="Values per tonne" used={value.valuation.kind === 'per-tonne'}>
        <ValuationFields form={form} />
      </Folded>
      <Folded summary="Factors and rounding" used={false}>
        <FactorAndRoundingFields form={form} />
      </Folded>
    </>
  );
}
