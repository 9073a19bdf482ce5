import { queryOptions, useSuspenseQuery } from '@tanstack/react-query';
import { Link, useParams } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { batchQuery } from '../../lib/book-queries.ts';
import { Page } from '../../parts/page.tsx';
import { ReportView } from '../../parts/report-view.tsx';
import { wayOf } from './batch-words.ts';

const chargeSheetQuery = (batchId: string) =>
  queryOptions({
    queryKey: ['batches', batchId, 'charge-sheet'],
    queryFn: () => send(api.batches[':id']['charge-sheet'].$get({ param: { id: batchId } })),
  });

/** What a batch needs and how it is worked, to read at the furnace or to print. */
export function ChargeSheetPage() {
  const { batchId } = useParams({ from: '/batches/$batchId/charge-sheet' });
  const { data: batch } = useSuspenseQuery(batchQuery(batchId));
  return (
    <Page title={`Charge sheet of batch ${batch.code}`}>
      {batch.treatmentId === null ? (
        <p>
          Batch {batch.code} is {wayOf(batch)}: nothing is charged, so it has no charge sheet.{' '}
          <Link to="/batches/$batchId" params={{ batchId }}>
            Back to the batch
          </Link>
        </p>
      ) : (
        <>
          <p className="actions">
            <a className="button" href={`/api/batches/${batchId}/charge-sheet.pdf`}>
              To print, with a weighing sheet (PDF)
            </a>
            <Link
              className="button"
              to="/treatments/$treatmentId"
              params={{ treatmentId: batch.treatmentId }}
            >
              The treatment
            </Link>
            <Link className="button" to="/batches/$batchId" params={{ batchId }}>
              Batch {batch.code}
            </Link>
          </p>
          <Sheet batchId={batchId} />
        </>
      )}
    </Page>
  );
}

function Sheet(props: { batchId: string }) {
  const { data: report } = useSuspenseQuery(chargeSheetQuery(props.batchId));
  return <ReportView report={report} />;
}
