import { queryOptions, useSuspenseQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { monthOf } from '../../../api/calc/calendar.ts';
import { Dec } from '../../../api/calc/money.ts';
import type { Expense } from '../../../api/schemas/expense.ts';
import { api, send, sendPage } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import type { Formatter } from '../../lib/format.ts';
import { behind } from '../../lib/list-page.ts';
import { monthText } from '../../lib/month-text.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { todayHere } from '../../lib/today.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import type { DataRow } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { PageLinks } from '../../parts/page-links.tsx';
import { ExpenseForm } from './expense-form.tsx';
import { expenseWords } from './expense-words.ts';

const expensesQuery = (from: string, after: string) =>
  queryOptions({
    queryKey: ['expenses', from, after],
    queryFn: async () => {
      const page = await sendPage(
        api.expenses.$get({ query: { from, newestFirst: 'true', ...behind(after) } }),
      );
      return { ...page, rows: page.rows.toReversed() };
    },
  });

/** Sums by currency, in the order in which the currencies come. */
function sums(expenses: readonly Expense[]): [currency: string, sum: string][] {
  const byCurrency = new Map<string, InstanceType<typeof Dec>>();
  for (const { currency, amount } of expenses)
    byCurrency.set(currency, (byCurrency.get(currency) ?? new Dec(0)).plus(amount));
  return [...byCurrency].map(([currency, sum]) => [currency, sum.toFixed(2)]);
}

const sumsText = (expenses: readonly Expense[], format: Formatter): string =>
  sums(expenses)
    .map(([currency, sum]) => format.money(sum, currency))
    .join(' and ');

/** Money spent beside the batches: by month, each to be put right, and a new one. */
export function ExpensesPage() {
  const today = todayHere();
  const asked = useAsked('from');
  const from = /^\d{4}-\d{2}-\d{2}$/.test(asked) ? asked : monthOf(today, -11).from;
  const after = useAsked('after');
  const { data: page } = useSuspenseQuery(expensesQuery(from, after));
  const expenses = page.rows;
  const whole = after === '' && page.next === null;
  const { currency } = useOwner();
  const format = useFormat();
  const navigate = useNavigate();
  const unpaid = expenses.filter(({ paidOn }) => paidOn === null);
  return (
    <Page title="Expenses">
      <Lead>
        {expenses.length === 0
          ? `No expense is entered from ${format.date(from)} on. Rent, repairs, permits and the like belong here; what batches use does not.`
          : `${sumsText(expenses, format)} ${expenses.length === 1 ? 'was' : 'were'} spent beside the batches ${whole ? `since ${format.date(from)}` : 'in the expenses on this page'}. ${unpaid.length === 0 ? 'All of it is paid.' : `${sumsText(unpaid, format)} of it ${unpaid.length === 1 ? 'is' : 'are'} not paid yet.`}`}
      </Lead>
      <Fieldset legend="Which are shown">
        <DateField
          label="From"
          value={from}
          max={today}
          onChange={(day) => void navigate({ to: '/expenses', search: { from: day }, replace: true })}
        />
      </Fieldset>
      <DataTable
        caption="Expenses by month"
        narrow="stack"
        empty="Nothing here yet. Enter an expense below."
        columns={[
          { key: 'day', label: 'Day', align: 'start' },
          { key: 'kind', label: 'For', align: 'start' },
          { key: 'payee', label: 'Paid to', align: 'start' },
          { key: 'document', label: 'Bill', align: 'start' },
          { key: 'paid', label: 'Paid', align: 'start' },
          { key: 'amount', label: 'Amount', align: 'end' },
        ]}
        rows={rowsByMonth(expenses, format)}
      />
      <PageLinks of="expenses" after={after} next={page.next} />
      <h2>New expense</h2>
      <ExpenseForm
        name="expense/new"
        initial={{
          spentOn: today,
          kind: 'rent',
          amount: '',
          currency,
          payee: '',
          document: '',
          paidOn: null,
          remarks: '',
        }}
        emptyAfter
        saveLabel="Enter this expense"
        save={(json) => send(api.expenses.$post({ json }))}
      />
      {expenses.length === 0 ? null : <ChangeExpenses expenses={expenses} />}
    </Page>
  );
}

function rowsByMonth(expenses: readonly Expense[], format: Formatter): DataRow[] {
  const months = [...new Set(expenses.map(({ spentOn }) => spentOn.slice(0, 7)))].toReversed();
  return months.flatMap((month): DataRow[] => {
    const own = expenses.filter(({ spentOn }) => spentOn.startsWith(month));
    return [
      { key: month, style: 'section', cells: { day: monthText(month) } },
      ...own.map(({ id, spentOn, kind, payee, document, paidOn, amount, currency, remarks }): DataRow => ({
        key: id,
        cells: {
          day: format.date(spentOn),
          kind: expenseWords[kind],
          payee,
          document,
          paid: paidOn === null ? 'not yet' : format.date(paidOn),
          amount: format.money(new Dec(amount).toFixed(2), currency),
        },
        detail: remarks === '' ? undefined : remarks,
      })),
      ...sums(own).map(([currency, sum]): DataRow => ({
        key: `${month} ${currency}`,
        style: 'subtotal',
        cells: { day: `${monthText(month)} in all`, amount: format.money(sum, currency) },
      })),
    ];
  });
}

function ChangeExpenses(props: { expenses: readonly Expense[] }) {
  const format = useFormat();
  const booksChanged = useBooksChanged();
  return (
    <>
      <h2>Change an expense</h2>
      {props.expenses.toReversed().map(({ id, version, ...fields }) => (
        <details key={id} className="record-form">
          <summary>
            {expenseWords[fields.kind]}, {format.date(fields.spentOn)},{' '}
            {format.money(new Dec(fields.amount).toFixed(2), fields.currency)}
          </summary>
          <ExpenseForm
            name={`expense/${id}`}
            initial={fields}
            version={version}
            saveLabel="Save this expense"
            save={(json, of) =>
              send(api.expenses[':id'].$put({ param: { id }, json: { ...json, version: of } }))
            }
          />
          <ConfirmButton
            sends="DELETE /expenses/:id"
            label="Remove this expense"
            question={`The expense of ${format.date(fields.spentOn)}, ${format.money(new Dec(fields.amount).toFixed(2), fields.currency)}, will be gone.`}
            confirmLabel="Remove it"
            onConfirm={async () => {
              await send(api.expenses[':id'].$delete({ param: { id } }));
              await booksChanged();
            }}
          />
        </details>
      ))}
    </>
  );
}
