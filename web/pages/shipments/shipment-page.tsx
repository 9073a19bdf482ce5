import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { api, ifMatch, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { shipmentQuery, worthQuery } from '../../lib/production-queries.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { Facts } from '../../parts/facts.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { productWords } from '../batches/batch-words.ts';
import { productMass } from '../stock/where-words.ts';

/** One shipment: what is in it, where it is, what it is worth and insured for. */
export function ShipmentPage() {
  const shipmentId = useRecordId('shipmentId');
  const { data: shipment } = useSuspenseQuery(shipmentQuery(shipmentId));
  const { data: worth } = useSuspenseQuery(worthQuery(shipmentId));
  const format = useFormat();
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const about = (value: number | null): string =>
    value === null ? 'not known' : `about ${format.significant(value, 3)} ${worth.currency}`;
  return (
    <Page title={`Shipment ${shipment.code}`}>
      <Lead>
        {shipment.arrivedOn === null
          ? `Under way to ${shipment.counterpartyName} since ${format.date(shipment.shippedOn)}`
          : `Arrived at ${shipment.counterpartyName} on ${format.date(shipment.arrivedOn)}`}
        ; its metal is worth {about(worth.value)}
        {worth.quotedOn === null ? '' : ` by the quotations of ${format.date(worth.quotedOn)}`}, before any
        deduction.
      </Lead>
      <FindingList label="What to bear in mind about this shipment" findings={worth.findings} />
      <p className="actions">
        <IfOpen change="POST /shipments">
          <Link className="button" to="/shipments/$shipmentId/edit" params={{ shipmentId }}>
            {shipment.arrivedOn === null ? 'Enter its arrival, or change it' : 'Change the shipment'}
          </Link>
        </IfOpen>
        <a className="button" href={`/api/shipments/${shipmentId}/packing-list.pdf`}>
          Packing list (PDF)
        </a>
        <Link className="button" to="/lineage" search={{ of: `shipment:${shipmentId}` }}>
          Where it came from
        </Link>
      </p>
      <Facts
        facts={[
          { label: 'To', value: shipment.counterpartyName },
          { label: 'Shipped on', value: format.date(shipment.shippedOn) },
          {
            label: 'Arrived on',
            value: shipment.arrivedOn === null ? 'not yet' : format.date(shipment.arrivedOn),
          },
          { label: 'Carrier', value: shipment.carrier || 'not named' },
          { label: 'Seals', value: shipment.seals || 'none noted' },
          {
            label: 'Insured for',
            value:
              shipment.insuredFor === null
                ? 'not insured'
                : `${format.money(shipment.insuredFor, shipment.insuredCurrency ?? '')}${shipment.insurer === '' ? '' : `, ${shipment.insurer}`}`,
          },
          ...(shipment.remarks === '' ? [] : [{ label: 'Remarks', value: shipment.remarks }]),
        ]}
      />
      <DataTable
        caption="Contents"
        narrow="stack"
        columns={[
          { key: 'code', label: 'Product', align: 'start' },
          { key: 'kind', label: 'Kind', align: 'start' },
          { key: 'mass', label: 'Mass', align: 'end' },
          { key: 'gold', label: 'Gold', align: 'end' },
          { key: 'silver', label: 'Silver', align: 'end' },
          { key: 'worth', label: 'Worth', align: 'end' },
          { key: 'next', label: 'Next', align: 'start' },
        ]}
        rows={shipment.products.map((product) => {
          const metal = worth.products.find(({ id }) => id === product.id);
          const mass = (of: { value: number; u: number } | null | undefined): string =>
            of == null ? 'not known' : format.measuredQuantity('metalMassG', of);
          return {
            key: product.id,
            cells: {
              code: (
                <Link to="/batches/$batchId" params={{ batchId: product.batchId }}>
                  {product.code}
                </Link>
              ),
              kind: productWords[product.kind],
              mass: productMass({ kind: product.kind, leftKg: product.massKg }, format),
              gold: mass(metal?.goldG),
              silver: mass(metal?.silverG),
              worth: about(metal?.value ?? null),
              next: (
                <IfOpen change="POST /statements">
                  <Link to="/settlements/new" search={{ product: product.id }}>
                    Settle {product.code}
                  </Link>
                </IfOpen>
              ),
            },
          };
        })}
      />
      <div className="actions">
        <ConfirmButton
          sends="DELETE /shipments/:id"
          label="Remove this shipment"
          question={`Shipment ${shipment.code} will be gone and its products are in stock again. Only for one that did not go out.`}
          confirmLabel="Remove the shipment"
          onConfirm={async () => {
            await send(
              api.shipments[':id'].$delete({ param: { id: shipment.id } }, ifMatch(shipment.version)),
            );
            await navigate({ to: '/shipments' });
            await booksChanged();
          }}
        />
      </div>
    </Page>
  );
}
