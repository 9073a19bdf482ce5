import { queryOptions, useQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { Season } from '../../../api/schemas/mill.ts';
import { api, send, sendAll, sendPage } from '../../api.ts';
import { askAgainAfterMs } from '../../lib/ask-again.ts';
import { useSeason } from '../../lib/use-season.ts';
import { Busy } from '../../parts/busy.tsx';
import { Page } from '../../parts/page.tsx';
import { ReportView } from '../../parts/report-view.tsx';
import { StillWorking } from '../../parts/still-working.tsx';
import { SeasonChoice } from '../../parts/season-choice.tsx';
import { AccountantPackage } from './accountant-package.tsx';
import { StatementsArchive } from './statements-archive.tsx';

const summaryQuery = (seasonId: string) =>
  queryOptions({
    queryKey: ['seasons', seasonId, 'summary'],
    queryFn: () => send(api.seasons[':id'].summary.$get({ param: { id: seasonId } })),
    refetchInterval: ({ state }) => askAgainAfterMs(state.data, state.dataUpdateCount),
  });

const statementsOfSeason = (seasonId: string) =>
  queryOptions({
    queryKey: ['statements', 'of season', seasonId],
    queryFn: () =>
      sendAll((after) =>
        sendPage(api.statements.$get({ query: { seasonId, status: 'issued', limit: '200', ...after } })),
      ),
  });

/** One season as a report, with its print and the accountant's table. */
export function SeasonPage() {
  const { seasons, season, choose } = useSeason();
  return (
    <Page title="Season">
      {season === undefined ? (
        <p>
          No season is opened yet. <Link to="/settings">Open one in the settings</Link>.
        </p>
      ) : (
        <>
          <SeasonChoice seasons={seasons} season={season} choose={choose} />
          <p className="actions">
            <a className="button" href={`/api/seasons/${season.id}/summary.pdf`}>
              This report to print (PDF)
            </a>
            <a className="button" href={`/api/seasons/${season.id}/accountant.csv`}>
              Amounts of batches and statements (CSV)
            </a>
          </p>
          <SeasonStatements key={`statements of ${season.id}`} season={season} />
          <AccountantPackage key={`books of ${season.id}`} season={season} />
          <SeasonReport key={season.id} season={season} />
        </>
      )}
    </Page>
  );
}

function SeasonStatements(props: { season: Season }) {
  const { data: statements } = useQuery(statementsOfSeason(props.season.id));
  if (statements === undefined) return null;
  return <StatementsArchive season={props.season} count={statements.length} />;
}

function SeasonReport(props: { season: Season }) {
  const { data: report } = useQuery(summaryQuery(props.season.id));
  if (report === undefined) return <Busy label={`Adding up season ${props.season.name}`} />;
  return (
    <>
      <StillWorking report={report} />
      <ReportView report={report} />
    </>
  );
}
