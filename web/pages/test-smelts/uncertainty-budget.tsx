import type { TestSmeltResult } from '../../../api/calc/assay/test-smelt.ts';
import type { BudgetShare } from '../../../api/calc/assay/uncertainty-budget.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';

const targets: readonly [BudgetShare['target'], string][] = [
  ['gold', 'gold'],
  ['silver', 'silver'],
  ['goldPlusSilver', 'gold and silver together'],
];

const kinds: Record<BudgetShare['kind'], string> = {
  weighing: 'this test’s own; replicates lessen it',
  sampling: 'this sample’s own; replicates lessen it',
  shared: 'the same in every replicate',
};

/** Which weighing or correction the ± of each grade comes from. */
export function BudgetTables(props: { result: TestSmeltResult }) {
  const { result } = props;
  const format = useFormat();
  const parted = result.goldGpt !== null;
  return targets
    .filter(([target]) => (target === 'goldPlusSilver' ? !parted : true))
    .map(([target, name]) => {
      const shares = result.budget.filter((share) => share.target === target);
      if (shares.length === 0) return null;
      return (
        <DataTable
          key={target}
          caption={`Where the ± of ${name} comes from`}
          narrow="stack"
          columns={[
            { key: 'source', label: 'Source', align: 'start' },
            { key: 'alone', label: 'Alone it would make ±', align: 'end' },
            { key: 'share', label: 'Share of the variance', align: 'end' },
            { key: 'kind', label: 'Kind', align: 'start' },
          ]}
          rows={shares.map((share) => ({
            key: share.source,
            cells: {
              source: share.source,
              alone: format.quantity('gradeGpt', 2 * share.uGpt),
              share: format.percent(share.shareFrac, 1),
              kind: kinds[share.kind],
            },
          }))}
        />
      );
    });
}
