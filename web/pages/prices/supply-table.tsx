import { Link } from '@tanstack/react-router';
import type { Supply } from '../../../api/schemas/supply.ts';
import { supplyKinds } from '../../../api/schemas/supply.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import type { DataRow } from '../../parts/data-table.tsx';
import { kindWords, priceText } from './supply-words.ts';

/** The supplies by kind, each with the price in force and since when. */
export function SupplyTable(props: { supplies: readonly Supply[]; today: string }) {
  const { supplies, today } = props;
  const format = useFormat();
  const rows = supplyKinds.flatMap((kind): DataRow[] => {
    const ofKind = supplies.filter((supply) => supply.kind === kind);
    if (ofKind.length === 0) return [];
    return [
      { key: kind, style: 'section', cells: { name: kindWords[kind] } },
      ...ofKind.map((supply) => {
        const dated = supply.prices.find((one) => one.effectiveOn <= today);
        const coming = supply.prices.filter((one) => one.effectiveOn > today).at(-1);
        return {
          key: supply.id,
          cells: {
            name: (
              <Link to="/prices/supplies/$supplyId" params={{ supplyId: supply.id }}>
                {supply.name}
              </Link>
            ),
            price: priceText(supply, today, format) ?? 'no price yet',
            since: dated === undefined ? '' : format.date(dated.effectiveOn),
            earlier: String(supply.prices.length),
          },
          detail:
            coming === undefined
              ? undefined
              : `From ${format.date(coming.effectiveOn)}: ${priceText(supply, coming.effectiveOn, format)}.`,
        };
      }),
    ];
  });
  return (
    <DataTable
      caption="Supplies and the prices in force today"
      narrow="stack"
      columns={[
        { key: 'name', label: 'Supply', align: 'start' },
        { key: 'price', label: 'Price', align: 'end' },
        { key: 'since', label: 'Since', align: 'start' },
        { key: 'earlier', label: 'Prices on record', align: 'end' },
      ]}
      rows={rows}
    />
  );
}
