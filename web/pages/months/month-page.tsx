import { useQuery, useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { monthText } from '../../lib/month-text.ts';
import { useActor } from '../../lib/session.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { Busy } from '../../parts/busy.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { Page } from '../../parts/page.tsx';
import { ReportView } from '../../parts/report-view.tsx';
import { StillWorking } from '../../parts/still-working.tsx';
import { monthReportQuery, monthsQuery } from './months-queries.ts';

/** A month's production report, its print, and its closing. */
export function MonthPage() {
  const month = useRecordId('month');
  return (
    <Page title={`Month ${monthText(month)}`}>
      <p className="actions">
        <a className="button" href={`/api/months/${month}/report.pdf`}>
          This report to print (PDF)
        </a>
        <Link to="/months" search={{ year: month.slice(0, 4) }}>
          All months
        </Link>
      </p>
      <Closing month={month} />
      <MonthReport key={month} month={month} />
    </Page>
  );
}

function MonthReport(props: { month: string }) {
  const { data: report } = useQuery(monthReportQuery(props.month));
  if (report === undefined) return <Busy label={`Adding up ${monthText(props.month)}`} />;
  return (
    <>
      <StillWorking report={report} />
      <ReportView report={report} />
    </>
  );
}

/** Only an owner closes a month; everybody is told why it cannot be closed yet. */
function Closing(props: { month: string }) {
  const { month } = props;
  const client = useQueryClient();
  const { role } = useActor();
  const { data } = useSuspenseQuery(monthsQuery(Number(month.slice(0, 4))));
  const listed = data.months.find((one) => one.month === month);
  if (listed === undefined || listed.closed !== null || role !== 'owner') return null;
  if (listed.cannotCloseBecause !== null)
    return (
      <p>
        {monthText(month)} {listed.cannotCloseBecause}.
      </p>
    );

  async function close(): Promise<void> {
    await send(api.months[':month'].close.$post({ param: { month } }));
    await client.invalidateQueries({ queryKey: ['months'] });
  }

  return (
    <p className="actions">
      <ConfirmButton
        sends="POST /months/:month/close"
        label={`Close ${monthText(month)}`}
        question={`Close ${monthText(month)}? Its report and all that it counts then stay as they are, for good. Records can still be changed; what that changes shows in the month in which it is done, as a correction.`}
        confirmLabel="Close it"
        onConfirm={close}
      />
    </p>
  );
}
