import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { statementsOfProductsQuery } from '../../lib/book-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { shiftPoint } from '../../lib/parse-decimal.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { productWords } from '../batches/batch-words.ts';
import { issuedFor } from './products.ts';
import type { Settleable } from './products.ts';
import { allowedStages, stageNames } from './stages.ts';
import { IfOpen } from '../../parts/if-open.tsx';

/** Bars and parcels with what has been issued for them and what may come next. */
export function ChooseProduct(props: { products: readonly Settleable[] }) {
  const { products } = props;
  const { data: statements } = useSuspenseQuery(
    statementsOfProductsQuery(products.map(({ product }) => product.id)),
  );
  const format = useFormat();
  if (products.length === 0)
    return (
      <p>
        There is no bar and no parcel yet. <Link to="/batches">Enter what came of a batch</Link>, then settle
        it here.
      </p>
    );
  return (
    <DataTable
      caption="Bars and parcels, newest first"
      narrow="stack"
      columns={[
        { key: 'product', label: 'Product', align: 'start' },
        { key: 'batch', label: 'Batch', align: 'start' },
        { key: 'mass', label: 'Mass', align: 'end' },
        { key: 'issued', label: 'Issued so far', align: 'start' },
        { key: 'next', label: 'Next', align: 'start' },
      ]}
      rows={products.map(({ product, batch }) => {
        const issued = issuedFor(statements, product.id);
        return {
          key: product.id,
          cells: {
            product: `${product.code}, ${productWords[product.kind]}`,
            batch: `${batch.code}, ${batch.counterpartyName}`,
            mass:
              product.kind === 'bar'
                ? format.quantity('metalMassG', shiftPoint(product.massKg, 3))
                : format.quantity('lotMassKg', product.massKg),
            issued:
              issued.length === 0
                ? 'nothing'
                : issued.map((one) => `${one.number} ${stageNames[one.stage].toLowerCase()}`).join(', '),
            next: allowedStages(issued).map((stage) => (
              <IfOpen change="POST /statements" key={stage}>
                <Link
                  key={stage}
                  className="next-stage"
                  to="/settlements/new"
                  search={{ product: product.id, stage }}
                  aria-label={`${stageNames[stage]} statement for ${product.code}`}
                >
                  {stageNames[stage]}
                </Link>
              </IfOpen>
            )),
          },
        };
      })}
    />
  );
}
