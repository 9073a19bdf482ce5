import type { Settlement } from '../../../api/calc/settlement/statement.ts';
import { Dec } from '../../../api/calc/money.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { accountTable, measuredTable } from '../../../reports/model/statement-tables.ts';
import { isComplete } from '../../../reports/model/statement-words.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';

/** Who would owe whom how much, in one sentence. */
export function SettlementTotal(props: { settlement: Settlement; direction: Terms['direction'] }) {
  const { settlement, direction } = props;
  const format = useFormat();
  if (!isComplete(settlement)) return <p>There is no total until what is named here has been put right.</p>;
  const total = new Dec(settlement.total);
  const amount = (
    <strong>{format.money(total.abs().toFixed(settlement.moneyDecimals), settlement.currency)}</strong>
  );
  if (total.isZero()) return <p>Nothing is owed either way.</p>;
  const buyerOwes = !total.isNegative();
  const weAreSeller = direction === 'we-sell';
  return buyerOwes === weAreSeller ? <p>We are owed {amount}.</p> : <p>We owe {amount}.</p>;
}

/** Every line of a settlement with its working, as it prints. */
export function SettlementLines(props: { settlement: Settlement }) {
  const { settlement } = props;
  const account = accountTable(settlement);
  const measured = measuredTable(settlement);
  return (
    <>
      <DataTable {...account} narrow="stack" />
      {measured.rows.length === 0 ? null : <DataTable {...measured} narrow="stack" />}
    </>
  );
}
