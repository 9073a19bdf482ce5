import { Link } from '@tanstack/react-router';
import { balanceOn, checksAround } from '../../../api/calc/facts/balance-from-record.ts';
import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import { api, send } from '../../api.ts';
import { useFormat } from '../../lib/owner.ts';
import { todayHere } from '../../lib/today.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { BalanceForm } from '../balances/balance-form.tsx';

/** The balances that weigh samples and beads: how finely they read decides how sure a grade can be. */
export function Balances(props: { balances: readonly BalanceRecord[] }) {
  const { balances } = props;
  const format = useFormat();
  const today = todayHere();
  const lastCheck = ({ checks }: BalanceRecord): string => {
    const { before } = checksAround(checks, 'check-weights', today);
    return before === null ? 'never' : format.date(before.checkedOn);
  };
  return (
    <>
      <h2>Balances</h2>
      <DataTable
        caption="Balances"
        narrow="stack"
        empty="No balance yet. Enter the one on your bench: a test smelt names the balance that weighed it."
        columns={[
          { key: 'name', label: 'Balance', align: 'start' },
          { key: 'readability', label: 'Readability, g', align: 'end' },
          { key: 'repeatability', label: 'Repeatability, g', align: 'end' },
          { key: 'checked', label: 'Checked with weights', align: 'start' },
        ]}
        rows={balances.map((balance) => ({
          key: balance.id,
          cells: {
            name: (
              <Link to="/balances/$balanceId" params={{ balanceId: balance.id }}>
                {balance.name}
              </Link>
            ),
            readability: balance.readabilityG,
            repeatability: format.significant(balanceOn(balance, today).balance.repeatabilityG, 2),
            checked: lastCheck(balance),
          },
        }))}
      />
      {balances.length === 0 ? null : (
        <p className="muted">To change a balance or to check it, go to its page.</p>
      )}
      <details className="record-form">
        <summary>Enter a balance</summary>
        <BalanceForm
          name="balance/new"
          initial={{ name: '', readabilityG: '', repeatabilityG: '', repeatabilityFrom: 'stated' }}
          emptyAfter
          saveLabel="Enter this balance"
          save={(json) => send(api.balances.$post({ json }))}
        />
      </details>
    </>
  );
}
