import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { payers, royaltyBases, royaltyKinds, royaltyRates } from './charge-choices.ts';
import { royaltyDraft } from './draft-of-clauses.ts';
import { figureWriter } from '../../lib/typed-figures.ts';
import { useOwner } from '../../lib/owner.ts';
import { Clause } from './reading.tsx';
import type { RoyaltyDraft, TermsDraft } from './terms-draft.ts';

/** What the claim owner and the state are owed on a settlement. */
export function RoyaltyFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  const owner = useOwner();
  const newRoyalty = (): RoyaltyDraft =>
    royaltyDraft(
      {
        name: '',
        kind: 'royalty',
        base: { kind: 'net-smelter-return' },
        rate: { kind: 'flat', rateFrac: '' },
        exemption: null,
        paidBy: 'seller-pays',
        payees: [],
      },
      figureWriter(owner),
    );
  return (
    <RowsField
      legend="Royalties and production taxes"
      hint="What is due depends on the claim’s lease and on local law; a tax adviser’s word goes before this."
      rows={at(form, 'royalties')}
      newRow={newRoyalty}
      rowName="royalty"
    >
      {(royalty, index) => <OneRoyalty form={form} royalty={royalty} index={index} />}
    </RowsField>
  );
}

function OneRoyalty(props: { form: Binding<TermsDraft>; royalty: Binding<RoyaltyDraft>; index: number }) {
  const { form, royalty, index } = props;
  const { currency } = form.value;
  return (
    <Clause
      title={royalty.value.name === '' ? 'New royalty' : royalty.value.name}
      paths={[`/royalties/${index}`]}
      says={['Royalty', 'Production tax']}
      only={(terms) => ({ ...terms, royalties: terms.royalties.slice(index, index + 1) })}
    >
      <TextField label="Name" required maxLength={200} {...at(royalty, 'name')} />
      <ChoiceField label="Kind" choices={royaltyKinds} {...at(royalty, 'kind')} />
      <ChoiceField label="Reckoned on" choices={royaltyBases} {...at(at(royalty, 'base'), 'kind')} />
      {royalty.value.base.kind === 'own-price' ? <OwnPriceFields form={form} royalty={royalty} /> : null}
      <RateFields form={form} royalty={royalty} />
      <NumberField
        label="Free part of the base"
        unit={currency}
        hint="Empty: none."
        {...at(royalty, 'exemption')}
      />
      <ChoiceField label="Paid by" choices={payers} {...at(royalty, 'paidBy')} />
      <RowsField
        legend="Divided among"
        hint="Leave out where one party takes it all. Shares are relative: 2 and 1 are two thirds and one third."
        rows={at(royalty, 'payees')}
        newRow={() => ({ name: '', share: '' })}
        rowName="payee"
      >
        {(payee) => (
          <>
            <TextField label="Payee" required maxLength={200} {...at(payee, 'name')} />
            <NumberField label="Share" unit="" required min={0.000001} {...at(payee, 'share')} />
          </>
        )}
      </RowsField>
    </Clause>
  );
}

function metalChoices(form: TermsDraft, chosen: string): { value: string; label: string }[] {
  const priced = [...new Set([...form.metals.map((metal) => metal.metal), chosen])];
  return priced.filter((metal) => metal !== '').map((metal) => ({ value: metal, label: metal }));
}

function OwnPriceFields(props: { form: Binding<TermsDraft>; royalty: Binding<RoyaltyDraft> }) {
  const { form, royalty } = props;
  const { currency, metals } = form.value;
  return (
    <RowsField
      legend="Metals of the base"
      rows={at(at(royalty, 'base'), 'metals')}
      newRow={() => ({ metal: '', mass: 'payable' as const, price: '' })}
      rowName="metal of the base"
      min={1}
    >
      {(entry) => (
        <>
          <ChoiceField
            label="Metal"
            required
            choices={metalChoices(form.value, entry.value.metal)}
            {...at(entry, 'metal')}
          />
          <ChoiceField
            label="Counted"
            choices={[
              { value: 'payable', label: 'Payable metal' },
              { value: 'contained', label: 'Metal contained' },
            ]}
            {...at(entry, 'mass')}
          />
          <NumberField
            label="Price"
            unit={`${currency}/${metals.find((one) => one.metal === entry.value.metal)?.price.unit ?? ''}`}
            hint="Empty: the quoted price."
            {...at(entry, 'price')}
          />
        </>
      )}
    </RowsField>
  );
}

function RateFields(props: { form: Binding<TermsDraft>; royalty: Binding<RoyaltyDraft> }) {
  const { form, royalty } = props;
  const { currency, metals } = form.value;
  const rate = at(royalty, 'rate');
  const { kind, metal } = rate.value;
  const priceUnit = metals.find((one) => one.metal === metal)?.price.unit ?? '';
  return (
    <>
      <ChoiceField label="Rate" choices={royaltyRates} {...at(rate, 'kind')} />
      {kind === 'flat' ? (
        <NumberField label="Rate" unit="%" required max={100} {...at(rate, 'rateFrac')} />
      ) : (
        <>
          {kind === 'price-steps' ? (
            <ChoiceField
              label="By the price of"
              required
              choices={metalChoices(form.value, metal)}
              {...at(rate, 'metal')}
            />
          ) : null}
          <RowsField
            legend={kind === 'bands' ? 'Bands' : 'Steps'}
            hint="In rising order."
            rows={at(rate, kind === 'bands' ? 'bands' : 'steps')}
            newRow={() => ({ from: '', rateFrac: '' })}
            rowName={kind === 'bands' ? 'band' : 'step'}
            min={1}
          >
            {(level) => (
              <>
                <NumberField
                  label={kind === 'bands' ? 'Base above' : 'Price from'}
                  unit={kind === 'bands' ? currency : `${currency}/${priceUnit}`}
                  required
                  {...at(level, 'from')}
                />
                <NumberField label="Rate" unit="%" required max={100} {...at(level, 'rateFrac')} />
              </>
            )}
          </RowsField>
        </>
      )}
    </>
  );
}
