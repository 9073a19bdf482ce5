import type { BalanceDrift } from '../../../api/calc/assay/balance-drift.ts';
import { balanceRepeatability } from '../../../api/calc/assay/balance-check.ts';
import { judgeCheck, weightsOf } from '../../../api/calc/facts/balance-from-record.ts';
import type { BalanceCheck, BalanceRecord } from '../../../api/schemas/balance.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import type { Formatter } from '../../lib/format.ts';
import { useFormat } from '../../lib/owner.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';

function RemoveCheck(props: { balance: BalanceRecord; check: BalanceCheck }) {
  const { balance, check } = props;
  const format = useFormat();
  const booksChanged = useBooksChanged();
  const day = format.date(check.checkedOn);
  return (
    <ConfirmButton
      sends="DELETE /balances/:id/checks/:checkId"
      label={`Remove ${day}`}
      question={`The check of ${day} will be gone; test smelts weighed after it are judged by the one before.`}
      confirmLabel="Remove the check"
      onConfirm={async () => {
        await send(
          api.balances[':id'].checks[':checkId'].$delete({ param: { id: balance.id, checkId: check.id } }),
        );
        await booksChanged();
      }}
    />
  );
}

/** An error with its sign: a reader sees at once to which side the balance errs. */
const signed = (valueG: number, format: Formatter): string =>
  Math.abs(valueG) < 1e-12 ? '0' : `${valueG > 0 ? '+' : '−'}${format.significant(Math.abs(valueG), 2)}`;

/** Checks with check weights, newest first: what the balance read, by how much it erred, and how that moved. */
export function WeightTable(props: { balance: BalanceRecord; drifts: readonly BalanceDrift[] }) {
  const { balance, drifts } = props;
  const format = useFormat();
  const checks = balance.checks.filter((check) => check.kind === 'check-weights').toReversed();
  return (
    <DataTable
      caption="With check weights, newest first"
      narrow="stack"
      empty="Never checked with weights. A coin of known mass is better than nothing."
      columns={[
        { key: 'on', label: 'Checked on', align: 'start' },
        { key: 'errors', label: 'Error, g, at each weight', align: 'start' },
        { key: 'moved', label: 'Moved since the check before', align: 'start' },
        { key: 'verdict', label: 'Reads', align: 'start' },
        { key: 'remove', label: 'Remove', align: 'start' },
      ]}
      rows={checks.map((check, place) => {
        const drift = drifts.find(({ to }) => to === check.checkedOn);
        const wrong = judgeCheck(balance, check)?.findings.some(({ code }) => code === 'balance-reads-wrong');
        return {
          key: check.id,
          cells: {
            on: format.date(check.checkedOn),
            errors: weightsOf(check)
              .map(
                ({ nominalMassG, readingG }) =>
                  `${signed(readingG - nominalMassG, format)} at ${nominalMassG} g`,
              )
              .join(', '),
            moved:
              drift === undefined
                ? place === checks.length - 1
                  ? 'first check'
                  : 'no weight in common'
                : `${signed(drift.changeG, format)} g at ${drift.nominalMassG} g (± ${format.significant(2 * drift.uG, 2)} g)`,
            verdict: wrong === true ? 'wrong' : 'right',
            remove: <RemoveCheck balance={balance} check={check} />,
          },
          detail: check.remarks,
        };
      })}
    />
  );
}

/** Repeat weighings, newest first, with the repeatability that each gave. */
export function RepeatTable(props: { balance: BalanceRecord }) {
  const { balance } = props;
  const format = useFormat();
  const checks = balance.checks.filter((check) => check.kind === 'repeat-weighing').toReversed();
  return (
    <DataTable
      caption="Repeat weighings, newest first"
      narrow="stack"
      empty="None yet. Weigh one thing ten times: the spread is what you can rely on at your bench."
      columns={[
        { key: 'on', label: 'Weighed on', align: 'start' },
        { key: 'readings', label: 'Readings, g', align: 'start' },
        { key: 'sd', label: 'Repeatability', align: 'end' },
        { key: 'remove', label: 'Remove', align: 'start' },
      ]}
      rows={checks.map((check) => {
        const readingsG = check.readings.map(({ readingG }) => readingG);
        const worked = balanceRepeatability({ readingsG, readabilityG: Number(balance.readabilityG) });
        return {
          key: check.id,
          cells: {
            on: format.date(check.checkedOn),
            readings: readingsG.join(', '),
            sd: worked === null ? '' : `${format.significant(worked.repeatabilityG, 2)} g`,
            remove: <RemoveCheck balance={balance} check={check} />,
          },
          detail: check.remarks,
        };
      })}
    />
  );
}
