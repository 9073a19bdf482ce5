import { useSuspenseQueries } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { priceOn } from '../../../api/calc/books/batch-cost.ts';
import {
  lotsQuery,
  seasonsQuery,
  suppliesQuery,
  treatmentsQuery,
  trialsQuery,
} from '../../lib/bench-queries.ts';
import { batchesQuery, statementsQuery, termsQuery } from '../../lib/book-queries.ts';
import { millQuery } from '../../lib/mill.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { latestQuotationsQuery } from '../../lib/price-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { FirstSteps } from './first-steps.tsx';
import type { StepsDone } from './first-steps.tsx';
import { seasonOn, standing } from './standing.ts';
import { unfinishedWork } from './unfinished-work.ts';
import { WorkSections } from './work-sections.tsx';

/** The name that a new mill begins with, until its owner gives it one. */
const UNNAMED_MILL = 'My mill';

/** Where the season stands, and what there is to do next. */
export function TodayPage() {
  const today = todayHere();
  const format = useFormat();
  const { currency } = useOwner();
  const [
    { data: mill },
    { data: seasons },
    { data: lots },
    { data: trials },
    { data: supplies },
    { data: treatments },
    { data: terms },
    { data: batches },
    { data: statements },
    { data: quotations },
  ] = useSuspenseQueries({
    queries: [
      millQuery,
      seasonsQuery,
      lotsQuery,
      trialsQuery,
      suppliesQuery,
      treatmentsQuery,
      termsQuery,
      batchesQuery,
      statementsQuery,
      latestQuotationsQuery(today),
    ],
  });
  const season = seasonOn(seasons, today);
  const done: StepsDone = {
    settings: mill.name !== UNNAMED_MILL,
    lot: lots.length > 0,
    prices:
      supplies.some((supply) => priceOn(supply, today) !== null) &&
      quotations.some(({ metal }) => metal === 'Au'),
    treatments: treatments.some(({ retired }) => !retired),
    testSmelts: trials.some(({ smelts }) => smelts.length > 0),
    terms: terms.length > 0,
    decided: batches.length > 0,
  };
  const steps = Object.values(done);
  const isNew = !steps.includes(true);
  const work = unfinishedWork({ lots, batches, statements, supplies, quotations }, today);
  const nothingWaits = Object.values<readonly unknown[]>({ ...work }).every(
    (waiting) => waiting.length === 0,
  );
  return (
    <Page title="Today">
      <Lead>
        {season === null ? (
          <>
            No season is open. <Link to="/settings">Open one in the settings</Link>.
          </>
        ) : isNew ? (
          'Nothing is entered yet. These steps lead from a drum of concentrate to what is best done with it.'
        ) : (
          standing({ season, lots, batches }, format, currency)
        )}
      </Lead>
      {batches.length === 0 || season === null ? null : (
        <p>
          <Link to="/season">The season in figures</Link>
        </p>
      )}
      {steps.every(Boolean) ? null : (
        <>
          <h2>First steps</h2>
          <FirstSteps done={done} />
        </>
      )}
      {isNew || nothingWaits ? null : (
        <>
          <h2>Waiting</h2>
          <WorkSections work={work} today={today} />
        </>
      )}
      {!isNew && nothingWaits && steps.every(Boolean) ? <p>Nothing is waiting.</p> : null}
    </Page>
  );
}
