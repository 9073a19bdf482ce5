import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { DecisionRecord } from '../../../api/schemas/decision.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import { decisionsOfSeasonQuery } from '../../lib/decision-queries.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { useSeason } from '../../lib/use-season.ts';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { PageLinks } from '../../parts/page-links.tsx';
import { SeasonChoice } from '../../parts/season-choice.tsx';
import { DecisionTable } from './decision-table.tsx';

function leadSentence(decisions: readonly DecisionRecord[]): string {
  const judged = decisions.flatMap(({ batches }) => batches.flatMap(({ hindsight }) => hindsight ?? []));
  const recorded =
    decisions.length === 1 ? '1 decision is recorded' : `${decisions.length} decisions are recorded`;
  if (judged.length === 0) return `${recorded}; nothing that was decided has been settled yet.`;
  const within = judged.filter(({ standing }) => standing === 'within').length;
  const settled = judged.length === 1 ? '1 batch has' : `${judged.length} batches have`;
  return `${recorded}. ${settled} been settled so far, ${within} within the range that was forecast.`;
}

/** What was decided about which lot, why, and what came of it. */
export function DecisionsPage() {
  const { seasons, season, choose } = useSeason();
  return (
    <Page title="Decisions">
      {season === undefined ? (
        <p>
          No season is open. <Link to="/settings">Open one in the settings</Link>.
        </p>
      ) : (
        <>
          <SeasonChoice seasons={seasons} season={season} choose={choose} />
          <DecisionsOfSeason season={season} />
        </>
      )}
    </Page>
  );
}

function DecisionsOfSeason({ season }: { season: Season }) {
  const after = useAsked('after');
  const { data: page } = useSuspenseQuery(decisionsOfSeasonQuery(season.id, after));
  const decisions = page.rows;
  return (
    <>
      {decisions.length === 0 ? (
        <p>
          No decision is recorded in {season.name} yet. <Link to="/decide">Decide</Link> what to do with a
          lot, and record it there with its reason.
        </p>
      ) : (
        <>
          <Lead>{leadSentence(decisions)}</Lead>
          <p className="actions">
            <Link className="button" to="/decide">
              Decide about a lot
            </Link>
          </p>
          <DecisionTable decisions={decisions} withLot />
          <PageLinks of="decisions" after={after} next={page.next} />
        </>
      )}
    </>
  );
}
