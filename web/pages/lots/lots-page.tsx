import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { Lot } from '../../../api/schemas/lot.ts';
import { sumOf } from '../../../api/calc/money.ts';
import { lotsQuery } from '../../lib/bench-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import type { Formatter } from '../../lib/format.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';

/** The elements that a laboratory has assayed, each once: "Au, Ag, As". */
function assayedText(lot: Lot): string {
  const elements = [...new Set(lot.labAssays.map((assay) => assay.element))];
  return elements.length === 0 ? 'none' : elements.join(', ');
}

function leadText(lots: readonly Lot[], format: Formatter): string {
  const left = format.quantity('lotMassKg', sumOf(lots.map((lot) => lot.leftKg)).toNumber());
  return `${lots.length === 1 ? 'One lot' : `${lots.length} lots`}; ${left} dry is left to work up.`;
}

/** Every lot with its mass, what was taken and what is left. */
export function LotsPage() {
  const { data: lots } = useSuspenseQuery(lotsQuery);
  const format = useFormat();
  const mass = (kg: string): string => format.quantity('lotMassKg', Number(kg));
  return (
    <Page title="Lots">
      {lots.length === 0 ? (
        <Lead>
          No lot is entered yet. <Link to="/lots/new">Enter the first lot</Link>, or{' '}
          <Link to="/import">import</Link> several from a table.
        </Lead>
      ) : (
        <>
          <Lead>{leadText(lots, format)}</Lead>
          <p className="actions">
            <Link className="button" to="/lots/new">
              New lot
            </Link>
            <Link className="button" to="/test-smelts/new">
              New test smelt
            </Link>
          </p>
          <DataTable
            caption="Lots, oldest first (dry masses)"
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
        </>
      )}
    </Page>
  );
}
