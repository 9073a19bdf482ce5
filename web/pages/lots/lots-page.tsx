import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { Lot } from '../../../api/schemas/lot.ts';
import { sumOf } from '../../../api/calc/money.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import { lotsOfSeasonQuery } from '../../lib/bench-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import type { Formatter } from '../../lib/format.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { useSeason } from '../../lib/use-season.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { PageLinks } from '../../parts/page-links.tsx';
import { SeasonChoice } from '../../parts/season-choice.tsx';

/** The elements that a laboratory has assayed, each once: "Au, Ag, As". */
function assayedText(lot: Lot): string {
  const elements = [...new Set(lot.labAssays.map((assay) => assay.element))];
  return elements.length === 0 ? 'none' : elements.join(', ');
}

function leadText(lots: readonly Lot[], whole: boolean, format: Formatter): string {
  const left = format.quantity('lotMassKg', sumOf(lots.map((lot) => lot.leftKg)).toNumber());
  const count = lots.length === 1 ? 'One lot' : `${lots.length} lots`;
  return `${count}${whole ? '' : ' on this page'}; ${left} dry is left to work up.`;
}

/** The lots of a season with their mass, what was taken and what is left. */
export function LotsPage() {
  const { seasons, season, choose } = useSeason();
  return (
    <Page title="Lots">
      {season === undefined ? (
        <Lead>
          No season is open. <Link to="/settings">Open one in the settings</Link>.
        </Lead>
      ) : (
        <>
          <SeasonChoice seasons={seasons} season={season} choose={choose} />
          <LotsOfSeason season={season} />
        </>
      )}
    </Page>
  );
}

function LotsOfSeason({ season }: { season: Season }) {
  const after = useAsked('after');
  const { data: page } = useSuspenseQuery(lotsOfSeasonQuery(season.id, after));
  const { rows: lots } = page;
  const format = useFormat();
  const mass = (kg: string): string => format.quantity('lotMassKg', Number(kg));
  return (
    <>
      {lots.length === 0 ? (
        <Lead>
          No lot is entered in {season.name} yet. <Link to="/lots/new">Enter the first lot</Link>, or{' '}
          <Link to="/import">import</Link> several from a table.
        </Lead>
      ) : (
        <>
          <Lead>{leadText(lots, after === '' && page.next === null, format)}</Lead>
          <p className="actions">
            <IfOpen change="POST /lots">
              <Link className="button" to="/lots/new">
                New lot
              </Link>
            </IfOpen>
            <IfOpen change="POST /test-smelts">
              <Link className="button" to="/test-smelts/new">
                New test smelt
              </Link>
            </IfOpen>
          </p>
          <DataTable
            caption="Lots, newest first (dry masses)"
            narrow="stack"
            columns={[
              { key: 'code', label: 'Lot', align: 'start' },
              { key: 'madeOn', label: 'Made on', align: 'start' },
              { key: 'dry', label: 'Dry mass', align: 'end' },
              { key: 'taken', label: 'Taken', align: 'end' },
              { key: 'left', label: 'Left', align: 'end' },
              { key: 'assays', label: 'Lab assays', align: 'start' },
            ]}
            rows={lots.map((lot) => ({
              key: lot.id,
              cells: {
                code: (
                  <Link to="/lots/$lotId" params={{ lotId: lot.id }}>
                    {lot.code}
                  </Link>
                ),
                madeOn: format.date(lot.madeOn),
                dry: mass(lot.dryMassKg),
                taken: mass(
                  sumOf([
                    lot.takenByTestSmeltsKg,
                    lot.takenByBatchesKg,
                    lot.takenByLotsKg,
                    lot.writtenOffKg,
                  ]).toFixed(),
                ),
                left: mass(lot.leftKg),
                assays: assayedText(lot),
              },
              detail: lot.description,
            }))}
          />
          <PageLinks of="lots" after={after} next={page.next} />
        </>
      )}
    </>
  );
}
