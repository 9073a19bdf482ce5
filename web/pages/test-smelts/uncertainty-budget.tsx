import type { TestSmeltResult } from '../../../api/calc/assay/test-smelt.ts';
import type { BudgetShare } from '../../../api/calc/assay/uncertainty-budget.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { shownValue } from '../../lib/quantities.ts';
import { DataTable } from '../../parts/data-table.tsx';

const targets: readonly [BudgetShare['target'], string][] = [
  ['gold', 'gold'],
  ['silver', 'silver'],
  ['goldPlusSilver', 'gold and silver together'],
];

/** Which weighing or correction the ± of each grade comes from. */
export function BudgetTables(props: { result: TestSmeltResult }) {
  const { result } = props;
  const format = useFormat();
  const owner = useOwner();
  const parted = result.goldGpt !== null;
  return targets
    .filter(([target]) => (target === 'goldPlusSilver' ? !parted : true))
    .map(([target, name]) => {
      const shares = result.budget.filter((share) => share.target === target);
      if (shares.length === 0) return null;
      return (
        <DataTable
          key={target}
          caption={`Where the ± of ${name} comes from (share of the variance)`}
          columns={[
            { key: 'source', label: 'Source', align: 'start' },
            { key: 'alone', label: `± by itself, ${format.unit('gradeGpt')}`, align: 'end' },
            { key: 'share', label: 'Share', align: 'end' },
          ]}
          rows={shares.map((share) => ({
            key: share.source,
            cells: {
              source: share.source,
              alone: format.significant(shownValue('gradeGpt', 2 * share.uGpt, owner), 2),
              share: share.shareFrac < 0.0005 ? 'under 0.1 %' : format.percent(share.shareFrac, 1),
            },
            detail:
              share.kind === 'shared' ? 'The same in every replicate: more tests do not lessen it.' : '',
          }))}
        />
      );
    });
}
