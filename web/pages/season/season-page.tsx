import { queryOptions, useQuery, useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import type { Season } from '../../../api/schemas/mill.ts';
import { api, send } from '../../api.ts';
import { seasonsQuery } from '../../lib/bench-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { Busy } from '../../parts/busy.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { Page } from '../../parts/page.tsx';
import { ReportView } from '../../parts/report-view.tsx';
import { AccountantPackage } from './accountant-package.tsx';
import { StatementsArchive } from './statements-archive.tsx';

const summaryQuery = (seasonId: string) =>
  queryOptions({
    queryKey: ['seasons', seasonId, 'summary'],
    queryFn: () => send(api.seasons[':id'].summary.$get({ param: { id: seasonId } })),
  });

const statementsOfSeason = (seasonId: string) =>
  queryOptions({
    queryKey: ['statements', 'of season', seasonId],
    queryFn: () => send(api.statements.$get({ query: { seasonId } })),
  });

/** The season that runs today, else the newest. */
function currentSeason(seasons: readonly Season[]): Season | undefined {
  const today = todayHere();
  return seasons.find(({ startsOn, endsOn }) => startsOn <= today && today <= endsOn) ?? seasons[0];
}

/** One season as a report, with its print and the accountant's table. */
export function SeasonPage() {
  const { data: seasons } = useSuspenseQuery(seasonsQuery);
  const navigate = useNavigate();
  const asked = useAsked('season');
  const season = seasons.find(({ id }) => id === asked) ?? currentSeason(seasons);
  return (
    <Page title="Season">
      {season === undefined ? (
        <p>
          No season is opened yet. <Link to="/settings">Open one in the settings</Link>.
        </p>
      ) : (
        <>
          {seasons.length < 2 ? null : (
            <ChoiceField
              label="Season"
              value={season.id}
              onChange={(id) => void navigate({ to: '/season', search: { season: id }, replace: true })}
              choices={seasons.map(({ id, name }) => ({ value: id, label: name }))}
            />
          )}
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
  const issued = statements.filter(({ status }) => status === 'issued');
  return <StatementsArchive season={props.season} count={issued.length} />;
}

function SeasonReport(props: { season: Season }) {
  const { data: report } = useQuery(summaryQuery(props.season.id));
  if (report === undefined) return <Busy label={`Adding up season ${props.season.name}`} />;
  return <ReportView report={report} />;
}
