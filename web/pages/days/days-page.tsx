import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { daySums } from '../../../api/calc/production/day-sums.ts';
import { monthOf } from '../../../api/calc/calendar.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import type { ProductionDay } from '../../../api/schemas/production-day.ts';
import { seasonsQuery, suppliesQuery } from '../../lib/bench-queries.ts';
import type { Formatter } from '../../lib/format.ts';
import { monthText } from '../../lib/month-text.ts';
import { useFormat } from '../../lib/owner.ts';
import { daysQuery, daysUpToQuery } from '../../lib/production-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { SeasonChoice } from '../../parts/season-choice.tsx';
import { feedUnitText } from './feed-units.ts';

/** The months of a season as far as days are entered. */
function monthsOf({ startsOn, endsOn }: Season, newestDay: string): string[] {
  const last = newestDay < endsOn ? newestDay : endsOn;
  const months: string[] = [];
  for (
    let month = startsOn.slice(0, 7);
    month <= last.slice(0, 7);
    month = monthOf(`${month}-01`, 1).from.slice(0, 7)
  )
    months.push(month);
  return months;
}

/** The daily log, month by month, with its sums. */
export function DaysPage() {
  const { data: seasons } = useSuspenseQuery(seasonsQuery);
  const { data: newest } = useSuspenseQuery(daysUpToQuery(''));
  const asked = useAsked('month');
  const month = /^\d{4}-(0[1-9]|1[0-2])$/.test(asked) ? asked : (newest[0]?.day.slice(0, 7) ?? '');
  const season =
    seasons.find(({ startsOn, endsOn }) => startsOn.slice(0, 7) <= month && month <= endsOn.slice(0, 7)) ??
    seasons[0];
  const { from, to } = monthOf(month === '' ? todayHere() : `${month}-01`);
  const { data: shown } = useSuspenseQuery(daysQuery(from, to));
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const format = useFormat();
  const newestDay = newest[0]?.day ?? todayHere();
  const months = season === undefined ? [] : monthsOf(season, newestDay);
  const navigate = useNavigate();
  const sums = daySums(shown);
  const supplyOf = (id: string) => supplies.find((one) => one.id === id);
  if (newest.length === 0)
    return (
      <Page title="Daily log">
        <Lead>
          No day is entered yet. <Link to="/days/new">Enter the first day</Link>: feed, concentrate, hours and
          people take a minute on the phone. Or{' '}
          <Link to="/import" search={{ kind: 'days' }}>
            import
          </Link>{' '}
          them from a table.
        </Lead>
      </Page>
    );
  return (
    <Page title="Daily log">
      <Lead>
        {monthText(month)}: {sums.days === 1 ? 'one day' : `${sums.days} days`},{' '}
        {format.significant(Number(sums.feedDryT), 4)} t of dry feed gave{' '}
        {format.quantity('lotMassKg', Number(sums.concentrateDryKg))} of dry concentrate
        {sums.concentrateKgPerT === null
          ? ''
          : `, ${format.significant(sums.concentrateKgPerT, 3)} kg from a tonne`}
        .
      </Lead>
      <p className="actions">
        <IfOpen change="POST /days">
          <Link className="button" to="/days/new">
            New day
          </Link>
        </IfOpen>
        <IfOpen change="POST /lots">
          <Link className="button" to="/lots/new">
            New lot from days
          </Link>
        </IfOpen>
        <IfOpen change="POST /imports/:kind">
          <Link className="button" to="/import" search={{ kind: 'days' }}>
            Import days
          </Link>
        </IfOpen>
      </p>
      {season === undefined ? null : (
        <SeasonChoice
          seasons={seasons}
          season={season}
          choose={(id) => {
            const chosen = seasons.find((one) => one.id === id) ?? season;
            void navigate({
              to: '/days',
              search: { month: monthsOf(chosen, newestDay).at(-1) ?? chosen.startsOn.slice(0, 7) },
            });
          }}
        />
      )}
      <nav aria-label="Months" className="month-links">
        {months.map((one) => (
          <Link
            key={one}
            to="/days"
            search={{ month: one }}
            aria-current={one === month ? 'page' : undefined}
          >
            {monthText(one)}
          </Link>
        ))}
      </nav>
      <DataTable
        caption={`Days of ${monthText(month)}`}
        narrow="stack"
        empty="No day of this month is entered."
        columns={[
          { key: 'day', label: 'Day', align: 'start' },
          { key: 'feed', label: 'Feed', align: 'end' },
          { key: 'feedDry', label: 'Dry feed, t', align: 'end' },
          { key: 'concentrate', label: 'Dry concentrate', align: 'end' },
          { key: 'left', label: 'Not in a lot yet', align: 'end' },
          { key: 'hours', label: 'Hours run', align: 'end' },
          { key: 'labour', label: 'Hours of people', align: 'end' },
        ]}
        rows={[
          ...shown.map((day) => ({ key: day.id, cells: cellsOf(day, format), detail: day.remarks })),
          ...(shown.length === 0
            ? []
            : [
                {
                  key: 'sum',
                  style: 'total' as const,
                  cells: {
                    day: 'Month',
                    feed: '',
                    feedDry: format.number(Number(sums.feedDryT), 2),
                    concentrate: format.quantity('lotMassKg', sums.concentrateDryKg, 1),
                    left: '',
                    hours: sums.hoursRun,
                    labour: sums.labourHours,
                  },
                },
              ]),
        ]}
      />
      <DataTable
        caption={`Used in ${monthText(month)}`}
        empty="Nothing was entered as used."
        columns={[
          { key: 'supply', label: 'Supply', align: 'start' },
          { key: 'quantity', label: 'Quantity', align: 'end' },
          { key: 'unit', label: 'Unit', align: 'start' },
        ]}
        rows={sums.supplies.map(({ supplyId, quantity }) => ({
          key: supplyId,
          cells: {
            supply: supplyOf(supplyId)?.name ?? '',
            quantity,
            unit: supplyOf(supplyId)?.unit ?? '',
          },
        }))}
      />
    </Page>
  );
}

function cellsOf(day: ProductionDay, format: Formatter) {
  return {
    day: (
      <Link to="/days/$dayId" params={{ dayId: day.id }}>
        {format.date(day.day)}
      </Link>
    ),
    feed: day.feedQuantity === null ? 'not counted' : `${day.feedQuantity} ${feedUnitText[day.feedUnit]}`,
    feedDry: day.feedDryT === null ? '–' : format.number(Number(day.feedDryT), 2),
    concentrate:
      day.concentrateDryKg === null ? 'not weighed' : format.quantity('lotMassKg', day.concentrateDryKg, 1),
    left: format.quantity('lotMassKg', day.leftKg, 1),
    hours: day.hoursRun ?? '–',
    labour: daySums([day]).labourHours,
  };
}
