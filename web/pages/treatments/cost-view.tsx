import { Link } from '@tanstack/react-router';
import type { TreatmentCost } from '../../../api/calc/facts/treatment-cost.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import type { Formatter } from '../../lib/format.ts';
import { DataTable } from '../../parts/data-table.tsx';
import type { DataRow } from '../../parts/data-table.tsx';

export const costUnit = (currency: string): string => `${currency}/kg`;

/** `about 6.42 USD/kg (6.10 to 6.90 as the lead comes back)`; null where it is not known. */
export function costText(cost: TreatmentCost, unit: string, format: Formatter): string | null {
  if (cost.totalPerKg === null) return null;
  const { low, likely, high } = cost.totalPerKg;
  const figure = (value: number): string => format.number(value, 2);
  const about = `about ${figure(likely)} ${unit}`;
  return figure(low) === figure(high)
    ? about
    : `${about} (${figure(low)} to ${figure(high)} as the lead comes back)`;
}

/** What the treatment costs per kg of concentrate, as its fields are typed. */
export function CostView(props: { cost: TreatmentCost | null; unread: readonly string[] }) {
  const { cost, unread } = props;
  const owner = useOwner();
  const format = useFormat();
  if (cost === null)
    return (
      <>
        <h2>Cost per kg of concentrate</h2>
        <p>The cost follows once these can be read: {unread.join(', ')}.</p>
      </>
    );
  const rows: DataRow[] = cost.lines.map(({ label, costPerKg }) => ({
    cells: { label, cost: format.number(costPerKg, 3) },
  }));
  return (
    <>
      <h2>Cost per kg of concentrate</h2>
      {cost.faults.length === 0 ? null : (
        <>
          <p>Not everything can be priced, so there is no total:</p>
          <ul>
            {cost.faults.map((fault) => (
              <li key={fault}>{fault}</li>
            ))}
          </ul>
          <p>
            <Link to="/prices/enter">Enter prices</Link>
          </p>
        </>
      )}
      <DataTable
        caption={`At today’s prices, for a full charge, ${costUnit(owner.currency)}`}
        columns={[
          { key: 'label', label: 'What', align: 'start' },
          { key: 'cost', label: costUnit(owner.currency), align: 'end' },
        ]}
        rows={
          cost.totalPerKg === null
            ? rows
            : [
                ...rows,
                {
                  style: 'total',
                  cells: { label: 'Per kg, dry', cost: format.number(cost.totalPerKg.likely, 3) },
                },
              ]
        }
      />
    </>
  );
}
