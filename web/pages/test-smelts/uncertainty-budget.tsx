import type { TestSmeltResult } from '../../../api/calc/assay/test-smelt.ts';
import { sources } from '../../../api/calc/assay/uncertainty-budget.ts';
import type { BudgetShare } from '../../../api/calc/assay/uncertainty-budget.ts';
import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { shownValue } from '../../lib/quantities.ts';
import { DataTable } from '../../parts/data-table.tsx';

const targets: readonly [BudgetShare['target'], string][] = [
  ['gold', 'gold'],
  ['silver', 'silver'],
  ['goldPlusSilver', 'gold and silver together'],
];

type Weighed = readonly [mass: number | null, unit: 'g' | 'mg', on: 'sampleBalanceId' | 'beadBalanceId'];

/** The mass in the record that each weighing of the budget is of, by the name that the budget gives it. */
function weighingsOf(record: TestSmeltRecord): Record<string, Weighed> {
  return {
    [sources.sample.name]: [record.sampleMassG, 'g', 'sampleBalanceId'],
    [sources.collectorLead.name]: [record.collectorLeadG, 'g', 'sampleBalanceId'],
    [sources.button.name]: [record.buttonG, 'g', 'sampleBalanceId'],
    [sources.matte.name]: [record.matteG, 'g', 'sampleBalanceId'],
    [sources.slag.name]: [record.slagG, 'g', 'sampleBalanceId'],
    [sources.roastBefore.name]: [record.massBeforeRoastG, 'g', 'sampleBalanceId'],
    [sources.roastAfter.name]: [record.massAfterRoastG, 'g', 'sampleBalanceId'],
    [sources.bead.name]: [record.beadMg, 'mg', 'beadBalanceId'],
    [sources.partedGold.name]: [record.partedGoldMg, 'mg', 'beadBalanceId'],
  };
}

/** Which weighing or correction the ± of each grade comes from, each weighing with what the balance showed. */
export function BudgetTables(props: {
  result: TestSmeltResult;
  record: TestSmeltRecord;
  balances: readonly BalanceRecord[];
}) {
  const { result, record, balances } = props;
  const weighings = weighingsOf(record);
  const weighedText = (source: string): string => {
    const [mass, unit, on] = weighings[source] ?? [null, 'g', 'sampleBalanceId'];
    const balance = balances.find(({ id }) => id === record[on]);
    return mass === null || balance === undefined ? '' : `${mass} ${unit} on ${balance.name}.`;
  };
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
              share.kind === 'shared'
                ? 'The same in every replicate: more tests do not lessen it.'
                : weighedText(share.source),
          }))}
        />
      );
    });
}
