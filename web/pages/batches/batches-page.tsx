import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { Batch } from '../../../api/schemas/batch.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import { batchesOfSeasonQuery } from '../../lib/book-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { useSeason } from '../../lib/use-season.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { PageLinks } from '../../parts/page-links.tsx';
import { SeasonChoice } from '../../parts/season-choice.tsx';
import { Range } from '../../parts/range.tsx';
import { stageWords, statusWords, wayOf } from './batch-words.ts';

function leadSentence(batches: readonly Batch[], whole: boolean): string {
  const count = (status: Batch['status']): number => batches.filter((one) => one.status === status).length;
  const parts = (['planned', 'running', 'done'] as const)
    .filter((status) => count(status) > 0)
    .map((status) => `${count(status)} ${statusWords[status]}`);
  return `${batches.length} ${batches.length === 1 ? 'batch' : 'batches'}${whole ? '' : ' on this page'}: ${parts.join(', ')}.`;
}

/** The batches of a season, forecast beside what was settled. */
export function BatchesPage() {
  const { seasons, season, choose } = useSeason();
  return (
    <Page title="Batches">
      {season === undefined ? (
        <p>
          No season is open. <Link to="/settings">Open one in the settings</Link>.
        </p>
      ) : (
        <>
          <SeasonChoice seasons={seasons} season={season} choose={choose} />
          <BatchesOfSeason season={season} />
        </>
      )}
    </Page>
  );
}

function BatchesOfSeason({ season }: { season: Season }) {
  const after = useAsked('after');
  const { data: page } = useSuspenseQuery(batchesOfSeasonQuery(season.id, after));
  const { rows: batches } = page;
  const format = useFormat();
  return (
    <>
      {batches.length === 0 ? (
        <p>
          No batch is planned in {season.name} yet. <Link to="/decide">Decide</Link> what to do with a lot, or{' '}
          <Link to="/batches/new">plan a batch</Link>.
        </p>
      ) : (
        <>
          <Lead>{leadSentence(batches, after === '' && page.next === null)}</Lead>
          <p className="actions">
            <IfOpen change="POST /batches">
              <Link className="button" to="/batches/new">
                Plan a batch
              </Link>
            </IfOpen>
          </p>
          <DataTable
            caption="Batches, newest first"
            narrow="stack"
            columns={[
              { key: 'code', label: 'Batch', align: 'start' },
              { key: 'lot', label: 'Lot', align: 'start' },
              { key: 'way', label: 'Treatment', align: 'start' },
              { key: 'status', label: 'Status', align: 'start' },
              { key: 'mass', label: 'Dry mass', align: 'end' },
              { key: 'forecast', label: 'Forecast net value', align: 'end' },
              { key: 'actual', label: 'Net value so far', align: 'end' },
            ]}
            rows={batches.map((batch) => ({
              key: batch.id,
              cells: {
                code: (
                  <Link to="/batches/$batchId" params={{ batchId: batch.id }}>
                    {batch.code}
                  </Link>
                ),
                lot: batch.lotCode,
                way: wayOf(batch),
                status: statusWords[batch.status],
                mass: format.quantity('lotMassKg', batch.dryMassKg),
                forecast: (
                  <Range
                    range={{
                      low: batch.forecast.netValue.p10,
                      median: batch.forecast.netValue.p50,
                      high: batch.forecast.netValue.p90,
                    }}
                    unit={batch.currency}
                  />
                ),
                actual:
                  batch.actualNetValue === null || batch.settled === null
                    ? batch.status === 'cancelled'
                      ? 'nothing: cancelled'
                      : 'not settled yet'
                    : `${format.money(batch.actualNetValue, batch.currency)} (${stageWords[batch.settled.stage] ?? batch.settled.stage})`,
              },
            }))}
          />
          <PageLinks of="batches" after={after} next={page.next} />
        </>
      )}
    </>
  );
}
