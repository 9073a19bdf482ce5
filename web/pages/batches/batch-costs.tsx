import { Link } from '@tanstack/react-router';
import { Dec } from '../../../api/calc/money.ts';
import type { Batch } from '../../../api/schemas/batch.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Notice } from '../../parts/notice.tsx';

/** The disposal of waste is forecast, but is no supply that a batch uses up: what it did cost is booked as an expense. */
export function WasteNote(props: { batch: Batch; treatment: Treatment | null }) {
  const { batch, treatment } = props;
  const format = useFormat();
  if (treatment === null || batch.actualNetValue === null || Number(treatment.wasteCostPerKg) === 0)
    return null;
  const forecast = new Dec(treatment.wasteCostPerKg).times(batch.dryMassKg).toFixed(2);
  return (
    <p className="muted">
      The forecast counts the disposal of waste, about {format.money(forecast, batch.currency)} by the
      treatment as it stands today; the costs of the batch below do not. What was paid for it belongs under{' '}
      <Link to="/expenses">Expenses</Link>.
    </p>
  );
}

/** Which costs come from the stock and which from the price list. */
function pricedSentence({ costs }: Batch): string {
  const listed = [...new Set(costs.filter((line) => line.pricedBy === 'list').map((line) => line.label))];
  if (costs.every((line) => line.pricedBy === 'list')) return 'All at the list prices of the day.';
  const rest = listed.length === 0 ? '' : ` At the list price of the day: ${listed.join('; ')}.`;
  return `What is kept in stock is costed at its moving average.${rest}`;
}

/** What the batch has cost so far, to the cent. */
export function CostTable({ batch }: { batch: Batch }) {
  const format = useFormat();
  const amount = (text: string): string => format.money(text, '');
  if (batch.costs.length === 0 && batch.missing.length === 0) return null;
  return (
    <>
      <h2>Costs</h2>
      {batch.missing.map((sentence) => (
        <Notice key={sentence} level="warning">
          {sentence}
        </Notice>
      ))}
      <DataTable
        caption={`Costs, ${batch.currency}`}
        columns={[
          { key: 'label', label: 'What', align: 'start' },
          { key: 'quantity', label: 'Quantity', align: 'end' },
          { key: 'unit', label: 'Unit', align: 'start' },
          { key: 'price', label: 'Cost of one', align: 'end' },
          { key: 'amount', label: 'Amount', align: 'end' },
        ]}
        rows={[
          ...batch.costs.map((line) => ({
            cells: {
              label: line.label,
              quantity: amount(line.quantity),
              unit: line.unit === 'each' ? (Number(line.quantity) === 1 ? 'piece' : 'pieces') : line.unit,
              price: amount(line.unitPrice),
              amount: amount(line.amount),
            },
          })),
          { style: 'total' as const, cells: { label: 'Costs', amount: amount(batch.costTotal) } },
        ]}
      />
      {batch.costs.length === 0 ? null : <p className="muted">{pricedSentence(batch)}</p>}
    </>
  );
}
