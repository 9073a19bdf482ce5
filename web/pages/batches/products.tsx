import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { Batch, Product } from '../../../api/schemas/batch.ts';
import { api, ifMatch, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { statementsOfProductsQuery } from '../../lib/book-queries.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { shiftPoint } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Form } from '../../parts/form.tsx';
import { productWords } from './batch-words.ts';
import { emptyProductDraft, isMetal, productDraftOf, productFromDraft } from './product-draft.ts';
import { ProductFields } from './product-fields.tsx';
import { IfOpen } from '../../parts/if-open.tsx';

/** What the batch gave: bars or a parcel to be settled, and what was kept. */
export function Products({ batch }: { batch: Batch }) {
  const { data: statements } = useSuspenseQuery(
    statementsOfProductsQuery(batch.products.map(({ id }) => id)),
  );
  const format = useFormat();
  const booksChanged = useBooksChanged();
  const content = ({ kind }: Product, frac: string | null): string => {
    if (frac === null) return 'not assayed';
    return isMetal(kind) ? `${shiftPoint(frac, 3)} fine` : format.quantity('gradeGpt', shiftPoint(frac, 6));
  };
  const mass = (product: Product): string =>
    isMetal(product.kind)
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
              gold: content(product, product.goldFinenessFrac),
              silver: content(product, product.silverFinenessFrac),
              next: (
                <>
                  {isBar || product.kind === 'parcel' ? (
                    <IfOpen change="POST /statements">
                      <Link to="/settlements/new" search={{ product: product.id }}>
                        Settle {product.code}
                      </Link>
                    </IfOpen>
                  ) : null}{' '}
                  <Link to="/lineage" search={{ of: `product:${product.id}` }}>
                    Where {product.code} came from
                  </Link>{' '}
                  {statements.some((one) => one.productId === product.id) ? null : (
                    <ConfirmButton
                      sends="DELETE /products/:id"
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
      {batch.products.map((product) => (
        <ChangeProduct key={`${product.id} ${product.version}`} product={product} />
      ))}
      {batch.status === 'cancelled' ? null : <NewProduct batch={batch} />}
    </>
  );
}

function NewProduct({ batch }: { batch: Batch }) {
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const start = emptyProductDraft({
    code: `${batch.code}-${batch.products.length + 1}`,
    kind: batch.treatmentId === null ? 'parcel' : 'bar',
    madeOn: batch.finishedOn ?? todayHere(),
  });
  const draft = useDraft(`batch/${batch.id} product`, start);
  return (
    <details className="new-product" open={batch.products.length === 0 && batch.status !== 'planned'}>
      <summary>Enter a product</summary>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /batches/:id/products"
        draft={draft}
        label="New product"
        saveLabel="Enter this product"
        onSave={async () => {
          await send(
            api.batches[':id'].products.$post({
              param: { id: batch.id },
              json: productFromDraft(draft.form.value, owner),
            }),
          );
          await booksChanged();
          draft.saved({ ...start, code: `${batch.code}-${batch.products.length + 2}` });
        }}
      >
        <ProductFields form={draft.form} />
      </Form>
    </details>
  );
}

/** A product that is on record, to correct it or to add its assays. */
function ChangeProduct({ product }: { product: Product }) {
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const draft = useDraft(`product/${product.id}`, productDraftOf(product, owner));
  return (
    <details className="new-product">
      <summary>Change {product.code} or its assays</summary>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /products/:id"
        draft={draft}
        label={`Change ${product.code}`}
        saveLabel={`Save ${product.code}`}
        onSave={async () => {
          await send(
            api.products[':id'].$put({
              param: { id: product.id },
              json: { ...productFromDraft(draft.form.value, owner), version: product.version },
            }),
          );
          draft.saved();
          await booksChanged();
        }}
      >
        <ProductFields form={draft.form} />
      </Form>
    </details>
  );
}
