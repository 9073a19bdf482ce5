import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { useFormat } from '../../lib/owner.ts';
import { shipmentsQuery } from '../../lib/production-queries.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { PageLinks } from '../../parts/page-links.tsx';

/** Every shipment, newest first. */
export function ShipmentsPage() {
  const after = useAsked('after');
  const { data: page } = useSuspenseQuery(shipmentsQuery(after));
  const { rows: shipments } = page;
  const whole = after === '' && page.next === null;
  const format = useFormat();
  const underWay = shipments.filter(({ arrivedOn }) => arrivedOn === null).length;
  return (
    <Page title="Shipments">
      <Lead>
        {shipments.length === 0
          ? 'Nothing was shipped yet. A shipment takes products out of stock to a buyer.'
          : `${shipments.length === 1 ? 'One shipment' : `${shipments.length} shipments`}${whole ? '' : ' on this page'}, ${underWay === 0 ? 'all arrived' : `${underWay} under way`}.`}
      </Lead>
      <p className="actions">
        <IfOpen change="POST /shipments">
          <Link className="button" to="/shipments/new">
            New shipment
          </Link>
        </IfOpen>
        <Link className="button" to="/stock">
          What is in stock
        </Link>
      </p>
      <DataTable
        caption="Shipments, newest first"
        narrow="stack"
        empty="No shipment yet."
        columns={[
          { key: 'code', label: 'Shipment', align: 'start' },
          { key: 'to', label: 'To', align: 'start' },
          { key: 'shipped', label: 'Shipped', align: 'start' },
          { key: 'arrived', label: 'Arrived', align: 'start' },
          { key: 'products', label: 'Products', align: 'start' },
          { key: 'insured', label: 'Insured for', align: 'end' },
        ]}
        rows={shipments.map((one) => ({
          key: one.id,
          cells: {
            code: (
              <Link to="/shipments/$shipmentId" params={{ shipmentId: one.id }}>
                {one.code}
              </Link>
            ),
            to: one.counterpartyName,
            shipped: format.date(one.shippedOn),
            arrived: one.arrivedOn === null ? 'under way' : format.date(one.arrivedOn),
            products: one.products.map(({ code }) => code).join(', '),
            insured:
              one.insuredFor === null
                ? 'not insured'
                : format.money(one.insuredFor, one.insuredCurrency ?? ''),
          },
        }))}
      />
      <PageLinks of="shipments" after={after} next={page.next} />
    </Page>
  );
}
