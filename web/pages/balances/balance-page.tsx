import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { balanceDrift } from '../../../api/calc/assay/balance-drift.ts';
import { weighingUncertaintyG } from '../../../api/calc/assay/weighing.ts';
import {
  balanceOn,
  checksAround,
  judgeCheck,
  weightsOf,
} from '../../../api/calc/facts/balance-from-record.ts';
import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import { api, send } from '../../api.ts';
import { balancesQuery } from '../../lib/bench-queries.ts';
import type { Formatter } from '../../lib/format.ts';
import { useFormat } from '../../lib/owner.ts';
import { todayHere } from '../../lib/today.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { Facts } from '../../parts/facts.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { BalanceForm } from './balance-form.tsx';
import { NewCheck } from './check-form.tsx';
import { RepeatTable, WeightTable } from './check-tables.tsx';

/** One balance: how finely it weighs, what its checks found, and a new check. */
export function BalancePage() {
  const balanceId = useRecordId('balanceId');
  const { data: balances } = useSuspenseQuery(balancesQuery);
  const format = useFormat();
  const balance = balances.find((one) => one.id === balanceId);
  if (balance === undefined)
    return (
      <Page title="Balance not found">
        <p>
          There is no such balance. <Link to="/settings">All balances are in the settings</Link>.
        </p>
      </Page>
    );
  const today = todayHere();
  const { balance: weighs, repeatWeighing } = balanceOn(balance, today);
  const last = checksAround(balance.checks, 'check-weights', today).before;
  const judged = last === null ? null : judgeCheck(balance, last);
  const drifts = balanceDrift({
    checks: balance.checks
      .filter((check) => check.kind === 'check-weights')
      .map((check) => ({ on: check.checkedOn, weights: weightsOf(check) })),
    balance: weighs,
  });
  return (
    <Page title={balance.name}>
      <Lead>{sentenceOf(balance, today, format)}</Lead>
      <FindingList
        label="What the last checks say"
        findings={[
          ...(judged?.findings ?? []),
          ...drifts.slice(-1).flatMap(({ finding }) => (finding === null ? [] : [finding])),
        ]}
      />
      <Facts
        facts={[
          { label: 'Readability', value: `${balance.readabilityG} g` },
          {
            label: 'Repeatability that counts',
            value: `${format.significant(weighs.repeatabilityG, 2)} g, ${
              repeatWeighing === null
                ? 'as stated'
                : `from ${repeatWeighing.readings.length} readings of ${format.date(repeatWeighing.checkedOn)}`
            }`,
          },
          {
            label: 'One weighing, ± two standard uncertainties',
            value: `± ${format.significant(2 * weighingUncertaintyG(weighs), 2)} g`,
          },
          { label: 'Test smelts weighed on it', value: String(balance.testSmelts) },
        ]}
      />
      <h2>Checks</h2>
      <WeightTable balance={balance} drifts={drifts} />
      <RepeatTable balance={balance} />
      <NewCheck key={balance.id} balance={balance} />
      <details className="record-form">
        <summary>Change this balance</summary>
        <BalanceForm
          key={balance.id}
          name={`balance/${balance.id}`}
          initial={{
            name: balance.name,
            readabilityG: balance.readabilityG,
            repeatabilityG: balance.repeatabilityG,
            repeatabilityFrom: balance.repeatabilityFrom,
          }}
          version={balance.version}
          saveLabel="Save the balance"
          save={(fields, version) =>
            send(api.balances[':id'].$put({ param: { id: balance.id }, json: { ...fields, version } }))
          }
        />
      </details>
      <p>
        <Link to="/settings">All balances</Link>
      </p>
    </Page>
  );
}

/** How the balance stands, for a reader in a hurry. */
function sentenceOf(balance: BalanceRecord, today: string, format: Formatter): string {
  const { before } = checksAround(balance.checks, 'check-weights', today);
  const plusMinus = format.significant(2 * weighingUncertaintyG(balanceOn(balance, today).balance), 2);
  const weighs = `It reads to ${balance.readabilityG} g and weighs to ± ${plusMinus} g`;
  if (before === null)
    return `${weighs}, if it is right: it was never checked with weights. Check it before tests, and note it here.`;
  const wrong = judgeCheck(balance, before)?.findings.some(({ code }) => code === 'balance-reads-wrong');
  return wrong === true
    ? `${weighs}, but at its last check, on ${format.date(before.checkedOn)}, it read wrong.`
    : `${weighs}. At its last check, on ${format.date(before.checkedOn)}, it read right.`;
}
