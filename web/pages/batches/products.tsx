import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { Batch, Product } from '../../../api/schemas/batch.ts';
import { productKinds } from '../../../api/schemas/batch.ts';
import { api, ifMatch, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { statementsQuery } from '../../lib/book-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { decimalOf, shiftPoint } from '../../lib/parse-decimal.ts';
import { storedOf } from '../../lib/quantities.ts';
import { todayHere } from '../../lib/today.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { productWords } from './batch-words.ts';

/** What the batch gave: bars or a parcel to be settled, and what was kept. */
export function Products({ batch }: { batch: Batch }) {
  const { data: statements } = useSuspenseQuery(statementsQuery);
  const format = useFormat();
  const booksChanged = useBooksChanged();
  const fineness = (frac: string | null): string =>
    frac === null ? 'not assayed' : `${shiftPoint(frac, 3)} fine`;
  const mass = (product: Product): string =>
    product.kind === 'bar'
      ? format.quantity('metalMassG', shiftPoint(product.massKg, 3))
      : format.quantity('lotMassKg', product.massKg);
  return (
    <>
      <h2>Products</h2>
      <DataTable
        caption="Products of this batch"
        narrow="stack"
        empty="Nothing has come of it yet. Enter the bar, or the parcel that was sent, below."
        columns={[
          { key: 'code', label: 'Product', align: 'start' },
          { key: 'kind', label: 'Kind', align: 'start' },
          { key: 'madeOn', label: 'Made on', align: 'start' },
          { key: 'mass', label: 'Mass', align: 'end' },
          { key: 'gold', label: 'Gold', align: 'end' },
          { key: 'silver', label: 'Silver', align: 'end' },
          { key: 'next', label: 'Next', align: 'start' },
        ]}
        rows={batch.products.map((product) => {
          const isBar = product.kind === 'bar';
          return {
            key: product.id,
            cells: {
              code: product.code,
              kind: productWords[product.kind],
              madeOn: format.date(product.madeOn),
              mass: mass(product),
              gold: isBar ? fineness(product.goldFinenessFrac) : '–',
              silver: isBar ? fineness(product.silverFinenessFrac) : '–',
              next: (
                <>
                  {isBar || product.kind === 'parcel' ? (
                    <Link to="/settlements/new" search={{ product: product.id }}>
                      Settle {product.code}
                    </Link>
                  ) : null}{' '}
                  {statements.some((one) => one.productId === product.id) ? null : (
                    <ConfirmButton
                      label={`Remove ${product.code}`}
                      question={`Remove ${product.code}? It cannot be removed once a statement names it.`}
                      confirmLabel="Remove"
                      onConfirm={async () => {
                        await send(
                          api.products[':id'].$delete(
                            { param: { id: product.id } },
                            ifMatch(product.version),
                          ),
                        );
                        await booksChanged();
                      }}
                    />
                  )}
                </>
              ),
            },
          };
        })}
      />
      {batch.status === 'cancelled' ? null : <NewProduct batch={batch} />}
    </>
  );
}

function NewProduct({ batch }: { batch: Batch }) {
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const start = {
    code: `${batch.code}-${batch.products.length + 1}`,
    kind: (batch.treatmentId === null ? 'parcel' : 'bar') as Product['kind'],
    madeOn: batch.finishedOn ?? todayHere(),
    massKg: '',
    goldFinenessFrac: '',
    silverFinenessFrac: '',
    remarks: '',
  };
  const draft = useDraft(`batch/${batch.id} product`, start);
  const { form } = draft;
  const isBar = form.value.kind === 'bar';
  const fineness = (typed: string): string | null => {
    const parts = decimalOf(typed, owner);
    return parts === null ? null : shiftPoint(parts, -3);
  };

  async function save(): Promise<void> {
    const typed = form.value;
    const grams = isBar ? storedOf('metalMassG', typed.massKg, owner) : null;
    await send(
      api.batches[':id'].products.$post({
        param: { id: batch.id },
        json: {
          ...typed,
          massKg: isBar
            ? grams === null
              ? ''
              : shiftPoint(grams, -3)
            : (storedOf('lotMassKg', typed.massKg, owner) ?? ''),
          goldFinenessFrac: isBar ? fineness(typed.goldFinenessFrac) : null,
          silverFinenessFrac: isBar ? fineness(typed.silverFinenessFrac) : null,
        },
      }),
    );
    await booksChanged();
    draft.saved({ ...start, code: `${batch.code}-${batch.products.length + 2}` });
  }

  return (
    <details className="new-product" open={batch.products.length === 0 && batch.status !== 'planned'}>
      <summary>Enter a product</summary>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form label="New product" saveLabel="Enter this product" onSave={save}>
        <Fieldset legend="Product">
          <ChoiceField
            label="Kind"
            {...at(form, 'kind')}
            choices={productKinds.map((kind) => ({ value: kind, label: productWords[kind] }))}
          />
          <TextField label="Code" required maxLength={40} {...at(form, 'code')} />
          <DateField label="Made on" required {...at(form, 'madeOn')} />
          <QuantityField
            label={isBar ? 'Mass of the bar' : form.value.kind === 'parcel' ? 'Wet mass' : 'Mass'}
            required
            quantity={isBar ? 'metalMassG' : 'lotMassKg'}
            {...at(form, 'massKg')}
          />
          {isBar ? (
            <>
              <NumberField
                label="Gold, own assay"
                unit="fine, parts in 1000"
                max={1000}
                {...at(form, 'goldFinenessFrac')}
              />
              <NumberField
                label="Silver, own assay"
                unit="fine, parts in 1000"
                max={1000}
                {...at(form, 'silverFinenessFrac')}
              />
            </>
          ) : null}
          <TextField label="Remarks" maxLength={2000} {...at(form, 'remarks')} />
        </Fieldset>
      </Form>
    </details>
  );
}
