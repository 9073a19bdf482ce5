import type { ComparedStatements } from '../../../reports/model/buyer-input.ts';
import { causeBlocks, questionBlocks, standingBlocks } from '../../../reports/model/buyer-report.ts';
import { ReportBlocks } from '../../parts/report-view.tsx';
import type { LiveComparison } from './live-comparison.ts';

/** How the two statements stand, what explains it and what to ask: what the report says, before it is kept. */
export function ComparisonView(props: {
  live: LiveComparison;
  compared: ComparedStatements | null;
  /** What has to be typed before theirs can be held against ours; null where all is there. */
  waiting: string | null;
}) {
  const { live, compared, waiting } = props;
  return (
    <section
      className="comparison"
      aria-labelledby="comparison-heading"
      aria-busy={live.stale && waiting === null}
    >
      <h2 id="comparison-heading">How they stand to each other</h2>
      <div role="status">
        {waiting === null ? null : (
          <p>
            {waiting}
            {compared === null ? '' : ' Below is the last that could be worked out.'}
          </p>
        )}
        {live.problem === null ? null : (
          <>
            <p>They cannot be held against each other so:</p>
            <ul>
              {live.problem.errors.length === 0 ? (
                <li>{live.problem.detail === '' ? live.problem.title : live.problem.detail}</li>
              ) : (
                live.problem.errors.map(({ pointer, detail }) => (
                  <li key={`${pointer} ${detail}`}>{detail}</li>
                ))
              )}
            </ul>
          </>
        )}
        {compared === null ? null : <ReportBlocks blocks={standingBlocks(compared)} />}
      </div>
      {compared === null ? null : (
        <ReportBlocks blocks={[...causeBlocks(compared), ...questionBlocks(compared)]} />
      )}
    </section>
  );
}
