import { queryOptions, useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { sumOf } from '../../../api/calc/money.ts';
import type { Budget, CapacityMonth } from '../../../api/schemas/budget.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import { api, send } from '../../api.ts';
import { seasonsQuery } from '../../lib/bench-queries.ts';
import type { Formatter } from '../../lib/format.ts';
import { monthText } from '../../lib/month-text.ts';
import { useFormat } from '../../lib/owner.ts';
import { todayHere } from '../../lib/today.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Page } from '../../parts/page.tsx';
import { BudgetForm } from './budget-form.tsx';

const budgetQuery = (seasonId: string) =>
  queryOptions({
    queryKey: ['budgets', seasonId],
    queryFn: () => send(api.budgets[':id'].$get({ param: { id: seasonId } })),
  });

const isOver = ({ availableHours, plannedHours }: CapacityMonth): boolean =>
  availableHours !== null && Number(plannedHours) > Number(availableHours);

/** What a season was planned to bring and to cost, and whether the furnace can do it. */
export function BudgetPage() {
  const { data: seasons } = useSuspenseQuery(seasonsQuery);
  const navigate = useNavigate();
  const asked = useAsked('season');
  const today = todayHere();
  const season =
    seasons.find(({ id }) => id === asked) ??
    seasons.find(({ startsOn, endsOn }) => startsOn <= today && today <= endsOn) ??
    seasons[0];
  return (
    <Page title="Budget">
      {season === undefined ? (
        <p>
          No season is opened yet. <Link to="/settings">Open one in the settings</Link>.
        </p>
      ) : (
        <>
          {seasons.length < 2 ? null : (
            <ChoiceField
              label="Season"
              value={season.id}
              onChange={(id) => void navigate({ to: '/budget', search: { season: id }, replace: true })}
              choices={seasons.map(({ id, name }) => ({ value: id, label: name }))}
            />
          )}
          <SeasonBudget key={season.id} season={season} />
        </>
      )}
    </Page>
  );
}

function leadSentence(budget: Budget, format: Formatter): string {
  if (budget.version === 0)
    return `Season ${budget.seasonName} has no budget yet. Enter below what you plan month by month: what comes is then held against it.`;
  const sum = (key: 'feedDryT' | 'concentrateDryKg' | 'treatedDryKg' | 'fixedCosts'): string =>
    sumOf(budget.months.map((month) => month[key])).toFixed();
  return `Season ${budget.seasonName} is planned at ${format.money(sum('feedDryT'), 't')} of dry feed and ${format.quantity('lotMassKg', sum('concentrateDryKg'))} of dry concentrate, of which ${format.quantity('lotMassKg', sum('treatedDryKg'))} are treated, with ${format.money(sum('fixedCosts'))} of fixed costs.`;
}

function SeasonBudget(props: { season: Season }) {
  const { data: budget } = useSuspenseQuery(budgetQuery(props.season.id));
  const format = useFormat();
  const over = budget.capacity.filter(isOver);
  return (
    <>
      <Lead>{leadSentence(budget, format)}</Lead>
      {over.map(({ month, plannedHours, availableHours, plannedBatches }) => (
        <Notice key={month} level="warning">
          {`The furnace has ${format.money(availableHours, 'h')} in ${monthText(month)}, but the batches of that month take ${format.money(plannedHours, 'h')} (${plannedBatches.join(', ')}): plan one of them for another month.`}
        </Notice>
      ))}
      <DataTable
        caption="Furnace hours there are, and what the batches of each month take"
        narrow="stack"
        columns={[
          { key: 'month', label: 'Month', align: 'start' },
          { key: 'days', label: 'Days', align: 'end' },
          { key: 'available', label: 'Hours there are', align: 'end' },
          { key: 'planned', label: 'Hours of batches', align: 'end' },
          { key: 'treated', label: 'Dry mass of batches', align: 'end' },
          { key: 'planTreated', label: 'Planned to treat', align: 'end' },
          { key: 'batches', label: 'Batches', align: 'start' },
        ]}
        rows={budget.capacity.map((one) => ({
          key: one.month,
          cells: {
            month: monthText(one.month),
            days: String(one.days),
            available: one.availableHours === null ? 'not said' : format.money(one.availableHours, 'h'),
            planned: `${format.money(one.plannedHours, 'h')}${isOver(one) ? ', too many' : ''}`,
            treated: format.quantity('lotMassKg', one.treatedDryKg),
            planTreated: format.quantity(
              'lotMassKg',
              budget.months.find(({ month }) => month === one.month)?.treatedDryKg ?? '0',
            ),
            batches: one.plannedBatches.join(', '),
          },
        }))}
      />
      <p className="muted">
        Hours are those entered with a batch, or where none are entered yet, those of its charge sheet.
        Batches sold as concentrate take none.
      </p>
      <h2>{budget.version === 0 ? 'Enter the budget' : 'Change the budget'}</h2>
      <BudgetForm key={budget.seasonId} budget={budget} />
    </>
  );
}
