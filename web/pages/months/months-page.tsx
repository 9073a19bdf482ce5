import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import type { ListedMonth, Months } from '../../../api/schemas/month.ts';
import { monthText } from '../../lib/month-text.ts';
import { useFormat } from '../../lib/owner.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { monthsQuery } from './months-queries.ts';

/** The months of a year, open and closed, with what each came to. */
export function MonthsPage() {
  const asked = Number(useAsked('year'));
  const year = Number.isInteger(asked) && asked > 999 && asked < 10_000 ? asked : undefined;
  const { data } = useSuspenseQuery(monthsQuery(year));
  const navigate = useNavigate();
  return (
    <Page title="Months">
      <Lead>{leadOf(data)}</Lead>
      {data.years.length < 2 ? null : (
        <ChoiceField
          label="Year"
          value={String(data.year)}
          onChange={(chosen) => void navigate({ to: '/months', search: { year: chosen }, replace: true })}
          choices={data.years.map((one) => ({ value: String(one), label: String(one) }))}
        />
      )}
      <MonthsTable {...data} />
    </Page>
  );
}

function leadOf({ months, year }: Months): string {
  const closable = months.filter(canBeClosed).at(-1);
  const closed = months.filter((one) => one.closed !== null).length;
  const begun = months.some((one) => one.entries > 0);
  if (!begun)
    return `Nothing is recorded in ${year} yet: a month’s report fills as days, lots and batches are entered.`;
  const said = closed === 0 ? 'No month is closed yet' : `${closed} of ${months.length} months are closed`;
  return closable === undefined
    ? `${said}.`
    : `${said}. ${monthText(closable.month)} is over and can be closed: its report then stays as it is, and later changes show as corrections.`;
}

const canBeClosed = (one: ListedMonth): boolean =>
  one.closed === null && one.cannotCloseBecause === null && one.entries > 0;

function MonthsTable({ months, currency, year }: Months) {
  const format = useFormat();
  return (
    <DataTable
      caption={`Months of ${year}; money in ${currency}`}
      narrow="stack"
      columns={[
        { key: 'month', label: 'Month', align: 'start' },
        { key: 'state', label: 'State', align: 'start' },
        { key: 'feed', label: 'Feed, t dry', align: 'end' },
        { key: 'batches', label: 'Batches finished', align: 'end' },
        { key: 'gold', label: 'Gold made', align: 'end' },
        { key: 'settled', label: 'Statements', align: 'end' },
        { key: 'costs', label: 'Costs', align: 'end' },
        { key: 'net', label: 'Net value', align: 'end' },
      ]}
      rows={months.map((one) => ({
        key: one.month,
        cells: {
          month: (
            <Link to="/months/$month" params={{ month: one.month }}>
              {monthText(one.month)}
            </Link>
          ),
          state: stateWords(one),
          feed: format.number(Number(one.feedDryT), 1),
          batches: one.batches,
          gold: format.quantity('metalMassG', Number(one.goldMadeG), 2),
          settled: format.money(one.settled, ''),
          costs: format.money(one.costs, ''),
          net: format.money(one.netValue, ''),
        },
      }))}
    />
  );
}

function stateWords({ closed, entries, corrections }: ListedMonth): string {
  const more =
    corrections === 0 ? '' : `, ${corrections === 1 ? '1 correction' : `${corrections} corrections`}`;
  if (closed !== null) return `closed${more}`;
  return entries === 0 && corrections === 0 ? 'nothing in it' : `open${more}`;
}
