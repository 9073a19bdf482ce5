import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { treatmentCost } from '../../../api/calc/facts/treatment-cost.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import { suppliesQuery, treatmentsQuery } from '../../lib/bench-queries.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { todayHere } from '../../lib/today.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { costText, costUnit } from './cost-view.tsx';
import { StartingPoints } from './starting-points-list.tsx';

function leadSentence(treatments: readonly Treatment[], uncosted: readonly string[]): string {
  const used = treatments.filter(({ retired }) => !retired).length;
  const count = used === 1 ? 'One treatment is' : `${used} treatments are`;
  const costed =
    uncosted.length === 0
      ? 'each can be costed.'
      : `${uncosted.length} cannot be costed yet (${uncosted.join('; ')}).`;
  return `${count} in use; ${costed}`;
}

/** The ways of working up a lot, each with what it costs and what it is expected to recover. */
export function TreatmentsPage() {
  const { data: treatments } = useSuspenseQuery(treatmentsQuery);
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const owner = useOwner();
  const format = useFormat();
  const costs = new Map(
    treatments.map((treatment) => [
      treatment.id,
      treatmentCost(treatment, { supplies, on: todayHere(), currency: owner.currency }),
    ]),
  );
  const uncosted = treatments
    .filter(({ id, retired }) => !retired && costs.get(id)?.totalPerKg === null)
    .map(({ name }) => name);
  const recovery = (mean: number, sd: number): string =>
    `${format.number(100 * mean, 1)} ± ${format.number(100 * sd, 1)} %`;
  return (
    <Page title="Treatments">
      {treatments.length === 0 ? (
        <>
          <Lead>
            No treatment is entered yet. A treatment is a way of working up a lot: raw with iron, with nitre,
            roasted first.
          </Lead>
          <StartingPoints />
        </>
      ) : (
        <Lead>{leadSentence(treatments, uncosted)}</Lead>
      )}
      <p className="actions">
        <IfOpen change="POST /treatments">
          <Link className="button" to="/treatments/new">
            New treatment
          </Link>
        </IfOpen>
        <Link className="button" to="/treatments/advice">
          Propose a recipe
        </Link>
      </p>
      {treatments.length === 0 ? null : (
        <DataTable
          caption="Treatments; recoveries as expected before any test, ± one standard deviation"
          narrow="stack"
          columns={[
            { key: 'name', label: 'Treatment', align: 'start' },
            { key: 'charge', label: 'Charge, dry', align: 'end' },
            { key: 'gold', label: 'Gold recovery', align: 'end' },
            { key: 'silver', label: 'Silver recovery', align: 'end' },
            { key: 'cost', label: 'Cost per kg of concentrate', align: 'start' },
          ]}
          rows={treatments.map((treatment) => {
            const cost = costs.get(treatment.id);
            return {
              key: treatment.id,
              cells: {
                name: (
                  <Link to="/treatments/$treatmentId" params={{ treatmentId: treatment.id }}>
                    {treatment.name}
                  </Link>
                ),
                charge: format.quantity('lotMassKg', treatment.chargeSizeKg),
                gold: recovery(treatment.goldRecoveryMeanFrac, treatment.goldRecoverySdFrac),
                silver: recovery(treatment.silverRecoveryMeanFrac, treatment.silverRecoverySdFrac),
                cost:
                  cost === undefined
                    ? ''
                    : (costText(cost, costUnit(owner.currency), format) ?? cost.faults.join(' ')),
              },
              detail: `${treatment.retired ? 'No longer used. ' : ''}${treatment.description}`,
            };
          })}
        />
      )}
    </Page>
  );
}
