import { queryOptions, useSuspenseQueries } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { priceOn } from '../../../api/calc/books/batch-cost.ts';
import { api, send } from '../../api.ts';
import { suppliesQuery, treatmentsQuery } from '../../lib/bench-queries.ts';
import { termsQuery } from '../../lib/book-queries.ts';
import { millQuery } from '../../lib/mill.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { latestQuotationsQuery } from '../../lib/price-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { FirstSteps } from './first-steps.tsx';
import type { StepsDone } from './first-steps.tsx';
import { standing } from './standing.ts';
import { isNothing, stalePrices } from './unfinished-work.ts';
import { WorkSections } from './work-sections.tsx';

/** The name that a new mill begins with, until its owner gives it one. */
const UNNAMED_MILL = 'My mill';

const todayQuery = (on: string) =>
  queryOptions({ queryKey: ['today', on], queryFn: () => send(api.today.$get({ query: { on } })) });

/** Where the season stands, and what there is to do next. */
export function TodayPage() {
  const today = todayHere();
  const format = useFormat();
  const { currency } = useOwner();
  const [
    { data: mill },
    { data: now },
    { data: supplies },
    { data: treatments },
    { data: terms },
    { data: quotations },
  ] = useSuspenseQueries({
    queries: [
      millQuery,
      todayQuery(today),
      suppliesQuery,
      treatmentsQuery,
      termsQuery,
      latestQuotationsQuery(today),
    ],
  });
  const { season, entered, ...waiting } = now;
  const done: StepsDone = {
    settings: mill.name !== UNNAMED_MILL,
    lot: entered.lot,
    prices:
      supplies.some((supply) => priceOn(supply, today) !== null) &&
      quotations.some(({ metal }) => metal === 'Au'),
    treatments: treatments.some(({ retired }) => !retired),
    testSmelts: entered.testSmelt,
    terms: terms.length > 0,
    decided: entered.batch,
  };
  const steps = Object.values(done);
  const isNew = !steps.includes(true);
  const work = { ...waiting, ...stalePrices({ supplies, quotations }, today) };
  const nothingWaits = isNothing(work);
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
          standing(season, format, currency)
        )}
      </Lead>
      {!entered.batch || season === null ? null : (
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
