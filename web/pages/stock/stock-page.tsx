import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import type { Measured } from '../../../api/calc/measured.ts';
import { sum } from '../../../api/calc/measured.ts';
import type { StockLot, StockProduct } from '../../../api/schemas/stock.ts';
import type { Formatter } from '../../lib/format.ts';
import { useFormat } from '../../lib/owner.ts';
import { stockQuery } from '../../lib/production-queries.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { useSeason } from '../../lib/use-season.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { PageLinks } from '../../parts/page-links.tsx';
import { SeasonChoice } from '../../parts/season-choice.tsx';
import { productWords } from '../batches/batch-words.ts';
import { WriteOffs } from './write-offs.tsx';
import { productMass, whereWords } from './where-words.ts';

const known = (metal: Measured | null): metal is Measured => metal !== null;

/** Lots and products: what is where, since when, what it holds and what it is insured for. */
export function StockPage() {
  const all = useAsked('all') === 'yes';
  const { seasons, season, choose } = useStockSeason();
  const [afterLot, afterProduct] = [useAsked('lots'), useAsked('products')];
  const { data: stock } = useSuspenseQuery(
    stockQuery({
      ...(all && season !== undefined ? { seasonId: season.id } : {}),
      ...(afterLot === '' ? {} : { afterLot }),
      ...(afterProduct === '' ? {} : { afterProduct }),
    }),
  );
  const whole = `${afterLot}${afterProduct}${stock.nextLots ?? ''}${stock.nextProducts ?? ''}` === '';
  const format = useFormat();
  const current = stock.products.filter(({ where }) => where === 'in-stock');
  const away = stock.products.filter(({ where }) => where === 'under-way' || where === 'at-buyer');
  const gold = sum(
    ...stock.lots.map(({ goldG }) => goldG).filter(known),
    ...[...current, ...away].map(({ goldG }) => goldG).filter(known),
  );
  return (
    <Page title="Stock">
      <Lead>
        {all || whole ? '' : 'Of what is listed on this page: '}
        {stock.lots.length === 1 ? 'One lot has' : `${stock.lots.length} lots have`} something left,{' '}
        {current.length === 1
          ? 'one product is'
          : `${current.length === 0 ? 'no' : current.length} products are`}{' '}
        in stock and {away.length === 0 ? 'none' : away.length} with or on the way to buyers; together about{' '}
        {format.measuredQuantity('metalMassG', gold)} of gold, as far as it is known.
      </Lead>
      <p className="actions">
        <IfOpen change="POST /shipments">
          <Link className="button" to="/shipments/new">
            New shipment
          </Link>
        </IfOpen>
        {all ? (
          <Link className="button" to="/stock">
            Without what is settled or used up
          </Link>
        ) : (
          <Link className="button" to="/stock" search={{ all: 'yes' }}>
            With what is settled or used up
          </Link>
        )}
      </p>
      {all && season !== undefined ? (
        <SeasonChoice seasons={seasons} season={season} choose={choose} />
      ) : null}
      <Products products={stock.products} format={format} />
      <PageLinks of="products" name="products" after={afterProduct} next={stock.nextProducts} />
      <Lots lots={stock.lots} format={format} />
      <PageLinks of="lots" name="lots" after={afterLot} next={stock.nextLots} />
      {stock.lots.length > stock.lotsWithMetal ? (
        <p>
          Where the metal of a lot is not known, nothing was tested or assayed of it, or that is still being
          worked out.
        </p>
      ) : null}
      <WriteOffs lots={stock.lots} products={stock.products} />
    </Page>
  );
}

/** Everything, settled and used up too, is shown season by season. */
function useStockSeason() {
  const navigate = useNavigate();
  return {
    ...useSeason(),
    choose: (seasonId: string) => void navigate({ to: '/stock', search: { all: 'yes', season: seasonId } }),
  };
}

function Products({ products, format }: { products: StockProduct[]; format: Formatter }) {
  return (
    <DataTable
      caption="Products, newest first"
      narrow="stack"
      empty="Nothing is in stock or with a buyer. Products are entered on the page of their batch."
      columns={[
        { key: 'code', label: 'Product', align: 'start' },
        { key: 'kind', label: 'Kind', align: 'start' },
        { key: 'where', label: 'Where', align: 'start' },
        { key: 'mass', label: 'Mass left', align: 'end' },
        { key: 'gold', label: 'Gold', align: 'end' },
        { key: 'silver', label: 'Silver', align: 'end' },
        { key: 'insured', label: 'Insured', align: 'end' },
        { key: 'more', label: 'More', align: 'start' },
      ]}
      rows={products.map((product) => ({
        key: product.id,
        cells: {
          code: (
            <Link to="/batches/$batchId" params={{ batchId: product.batchId }}>
              {product.code}
            </Link>
          ),
          kind: productWords[product.kind],
          where: <Where product={product} format={format} />,
          mass: productMass(product, format),
          gold: isUsedUp(product) ? '–' : metal(product.goldG, format),
          silver: isUsedUp(product) ? '–' : metal(product.silverG, format),
          insured:
            product.insuredFor === null
              ? '–'
              : format.money(product.insuredFor, product.insuredCurrency ?? ''),
          more: (
            <Link to="/lineage" search={{ of: `product:${product.id}` }}>
              Where {product.code} came from
            </Link>
          ),
        },
      }))}
    />
  );
}

const isUsedUp = ({ where }: StockProduct): boolean => where === 'worked-up-again' || where === 'written-off';

const metal = (massG: Measured | null, format: Formatter): string =>
  massG === null ? 'not known' : format.measuredQuantity('metalMassG', massG);

function Where({ product, format }: { product: StockProduct; format: Formatter }) {
  const words = `${whereWords[product.where]} since ${format.date(product.since)}`;
  if (product.by === null) return words;
  return product.shipmentId !== null && product.where !== 'settled' ? (
    <>
      {words},{' '}
      <Link to="/shipments/$shipmentId" params={{ shipmentId: product.shipmentId }}>
        {product.by}
      </Link>
    </>
  ) : (
    `${words}, ${product.by}`
  );
}

function Lots({ lots, format }: { lots: StockLot[]; format: Formatter }) {
  return (
    <DataTable
      caption="Lots with something left, newest first (dry masses)"
      narrow="stack"
      empty="No lot has anything left."
      columns={[
        { key: 'code', label: 'Lot', align: 'start' },
        { key: 'since', label: 'Since', align: 'start' },
        { key: 'left', label: 'Left', align: 'end' },
        { key: 'of', label: 'Of', align: 'end' },
        { key: 'gold', label: 'Gold', align: 'end' },
        { key: 'silver', label: 'Silver', align: 'end' },
        { key: 'more', label: 'More', align: 'start' },
      ]}
      rows={lots.map((lot) => ({
        key: lot.id,
        cells: {
          code: (
            <Link to="/lots/$lotId" params={{ lotId: lot.id }}>
              {lot.code}
            </Link>
          ),
          since: format.date(lot.madeOn),
          left: format.quantity('lotMassKg', Number(lot.leftKg)),
          of: format.quantity('lotMassKg', Number(lot.dryMassKg)),
          gold: metal(lot.goldG, format),
          silver: metal(lot.silverG, format),
          more: (
            <Link to="/lineage" search={{ of: `lot:${lot.id}` }}>
              Where {lot.code} came from
            </Link>
          ),
        },
        detail: lot.description,
      }))}
    />
  );
}
