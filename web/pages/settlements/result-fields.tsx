import type { MetalTerms } from '../../../api/calc/terms/metal-terms.ts';
import { periodWords } from '../../../api/calc/terms/metal-sentences.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { gradeSign } from '../terms/choices.ts';
import { rowOf } from '../../lib/row-binding.ts';
import {
  assaysAsked,
  declarationsAsked,
  isSameAssay,
  isSamePrice,
  pricesAsked,
  ratesAsked,
  sentPlace,
} from './statement-draft.ts';
import type { AssayRow, StatementDraft } from './statement-draft.ts';

/** Who the other party is, as it stands before "result". */
const otherParty: Record<Terms['direction'], string> = {
  'we-sell': 'Buyer’s',
  'we-buy': 'Seller’s',
  'we-toll': 'Customer’s',
};

/** The results of both parties for every element that the contract settles. */
export function AssayResultFields(props: { form: Binding<StatementDraft>; terms: Terms }) {
  const { form, terms } = props;
  const asked = assaysAsked(form.value, terms);
  const pieces = terms.weights.kind === 'melt' ? form.value.bars : form.value.sublots;
  return (
    <Fieldset
      legend="Assays"
      hint="Both parties’ results as far as they are exchanged. What is missing is said beside the settlement."
    >
      {asked.map((row, index) => (
        <OneAssay
          key={`${row.element} ${row.unit} ${row.piece}`}
          row={rowOf(at(form, 'assays'), {
            is: isSameAssay(row),
            shown: row,
            pointer: `/assays/${index}`,
          })}
          piece={row.piece === '' ? null : (pieces[Number(row.piece)]?.name ?? '')}
          terms={terms}
        />
      ))}
    </Fieldset>
  );
}

function OneAssay(props: { row: Binding<AssayRow>; piece: string | null; terms: Terms }) {
  const { row, piece, terms } = props;
  const { element, unit } = row.value;
  const rule = terms.assays.find((one) => one.element === element);
  const of = piece === null ? element : `${element} of ${piece}`;
  const most = unit === 'percent' ? 100 : unit === 'fineness' ? 1000 : 1_000_000;
  const field = { unit: gradeSign(unit), max: most, decimals: 8 };
  return (
    <fieldset className="assay-row">
      <legend>{of}</legend>
      <div className="fields">
        <NumberField label={`Our ${of}`} {...field} {...at(row, 'own')} />
        <NumberField label={`${otherParty[terms.direction]} ${of}`} {...field} {...at(row, 'buyer')} />
        {rule?.settledBy.kind === 'exchange' ? (
          <NumberField
            label={`Umpire’s ${of}`}
            hint="Only where one was called."
            {...field}
            {...at(row, 'umpire')}
          />
        ) : null}
      </div>
    </fieldset>
  );
}

/** The options of a metal's price in words, by their place. */
function optionChoices(metal: MetalTerms | undefined): { value: string; label: string }[] {
  const basis = metal?.price.basis;
  if (basis?.kind !== 'choice') return [];
  return basis.options.map(({ source, period }, index) => ({
    value: String(index),
    label: `${index + 1}: ${source}, ${periodWords(period)}`,
  }));
}

const optionHint = (metal: MetalTerms | undefined, option: string): string | undefined =>
  optionChoices(metal)
    .find(({ value }) => value === option)
    ?.label.replace(/^\d+: /, '');

/** Prices that were agreed in place of the quotations, and the exchange rates that the contract needs. */
export function PriceAgreedFields(props: { form: Binding<StatementDraft>; terms: Terms }) {
  const { form, terms } = props;
  const prices = pricesAsked(form.value, terms);
  const rates = ratesAsked(form.value, terms);
  const declarations = declarationsAsked(form.value, terms);
  if (prices.length === 0 && rates.length === 0) return null;
  return (
    <Fieldset
      legend="Prices"
      hint="Empty: the stored quotations of the contract’s period. Type a price only where one was agreed or quotations are missing."
    >
      {prices.map((shown, place) => {
        const metal = terms.metals.find((one) => one.metal === shown.metal);
        const row = rowOf(at(form, 'prices'), {
          is: isSamePrice(shown),
          shown,
          pointer: `/agreedPrices/${sentPlace(prices, place, ({ price }) => price)}`,
        });
        return (
          <div className="field-pair" key={`${shown.metal} ${shown.option}`}>
            <NumberField
              label={
                shown.option === ''
                  ? `Agreed price of ${shown.metal}`
                  : `Price of ${shown.metal}, option ${Number(shown.option) + 1}`
              }
              hint={optionHint(metal, shown.option)}
              unit={`${metal?.price.currency ?? terms.currency}/${metal?.price.unit ?? ''}`}
              decimals={8}
              {...at(row, 'price')}
            />
            {shown.price === '' ? null : (
              <TextField label="Agreed on, or source" required maxLength={200} {...at(row, 'basis')} />
            )}
          </div>
        );
      })}
      {declarations.map((shown) => {
        const row = rowOf(at(form, 'declared'), {
          is: (one) => one.metal === shown.metal,
          shown,
          pointer: '/declaredOptions',
        });
        const metal = terms.metals.find((one) => one.metal === shown.metal);
        return (
          <ChoiceField
            key={`declared ${shown.metal}`}
            label={`Option declared for ${shown.metal}`}
            choices={[{ value: '', label: 'None declared yet' }, ...optionChoices(metal)]}
            {...at(row, 'option')}
          />
        );
      })}
      {rates.map((shown, place) => {
        const row = rowOf(at(form, 'rates'), {
          is: (one) => one.currency === shown.currency,
          shown,
          pointer: `/exchangeRates/${sentPlace(rates, place, ({ rate }) => rate)}`,
        });
        const clause = terms.exchangeRates.find((one) => one.currency === shown.currency);
        return (
          <div className="field-pair" key={shown.currency}>
            <NumberField
              label={`One ${shown.currency} is`}
              unit={terms.currency}
              decimals={8}
              min={0.00000001}
              hint={clause === undefined ? undefined : `From ${clause.source}.`}
              {...at(row, 'rate')}
            />
            {shown.rate === '' ? null : <DateField label="Of the day" required {...at(row, 'date')} />}
          </div>
        );
      })}
    </Fieldset>
  );
}
