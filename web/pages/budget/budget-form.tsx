import { useState } from 'react';
import type { Budget } from '../../../api/schemas/budget.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at, items } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { monthText } from '../../lib/month-text.ts';
import { useOwner } from '../../lib/owner.ts';
import { decimalOf, editableText } from '../../lib/parse-decimal.ts';
import { shownText, storedOf } from '../../lib/quantities.ts';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { MoneyField } from '../../parts/money-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { TextField } from '../../parts/text-field.tsx';

/** A nothing is not shown: an empty field says it as well. */
const unlessNothing = (stored: string): string | null => (Number(stored) === 0 ? null : stored);

/** What is planned for each month of a season. */
export function BudgetForm(props: { budget: Budget }) {
  const { budget } = props;
  const [version, setVersion] = useState(budget.version);
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const draft = useDraft(`budget/${budget.seasonId}`, {
    furnaceHoursPerDay: editableText(budget.furnaceHoursPerDay, owner),
    remarks: budget.remarks,
    months: budget.months.map((month) => ({
      month: month.month,
      feedDryT: editableText(unlessNothing(month.feedDryT), owner),
      concentrateDryKg: shownText('lotMassKg', unlessNothing(month.concentrateDryKg), owner),
      treatedDryKg: shownText('lotMassKg', unlessNothing(month.treatedDryKg), owner),
      fixedCosts: editableText(unlessNothing(month.fixedCosts), owner),
    })),
  });
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /budgets/:id"
        label="Budget"
        saveLabel="Save the budget"
        onSave={async () => {
          const { furnaceHoursPerDay, remarks, months } = form.value;
          const saved = await send(
            api.budgets[':id'].$put({
              param: { id: budget.seasonId },
              json: {
                furnaceHoursPerDay: decimalOf(furnaceHoursPerDay, owner),
                remarks,
                months: months.map((month) => ({
                  month: month.month,
                  feedDryT: decimalOf(month.feedDryT, owner) ?? '0',
                  concentrateDryKg: storedOf('lotMassKg', month.concentrateDryKg, owner) ?? '0',
                  treatedDryKg: storedOf('lotMassKg', month.treatedDryKg, owner) ?? '0',
                  fixedCosts: decimalOf(month.fixedCosts, owner) ?? '0',
                })),
                version,
              },
            }),
          );
          setVersion(saved.version);
          draft.saved();
          await booksChanged();
        }}
      >
        <Fieldset legend="The furnace">
          <NumberField
            label="Hours it can burn on a day"
            unit="h"
            max={24}
            decimals={2}
            hint="On an average day of the season, with the people there are and the wind as it blows."
            {...at(form, 'furnaceHoursPerDay')}
          />
          <TextField label="Remarks" lines={2} maxLength={2000} {...at(form, 'remarks')} />
        </Fieldset>
        {items(at(form, 'months')).map((month) => (
          <Fieldset key={month.value.month} legend={monthText(month.value.month)}>
            <NumberField label="Dry feed" unit="t" max={1_000_000} decimals={3} {...at(month, 'feedDryT')} />
            <QuantityField
              label="Dry concentrate made"
              quantity="lotMassKg"
              max={100_000_000}
              {...at(month, 'concentrateDryKg')}
            />
            <QuantityField
              label="Dry mass treated"
              quantity="lotMassKg"
              max={100_000_000}
              {...at(month, 'treatedDryKg')}
            />
            <MoneyField label="Fixed costs" max={1_000_000_000} {...at(month, 'fixedCosts')} />
          </Fieldset>
        ))}
      </Form>
    </>
  );
}
