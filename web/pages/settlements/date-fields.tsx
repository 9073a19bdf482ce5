import { eventsNamed } from '../../../api/calc/terms/events-named.ts';
import type { EventName } from '../../../api/calc/terms/term-units.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { EVENT_DAY_WORDS } from '../../../reports/model/statement-words.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { dateOf } from './statement-draft.ts';
import type { StatementDraft } from './statement-draft.ts';

const labels: Record<EventName, string> = { ...EVENT_DAY_WORDS, statement: 'Statement of' };

/** The days that the contract counts from; the others are folded in. */
export function DateFields(props: { form: Binding<StatementDraft>; terms: Terms }) {
  const { form, terms } = props;
  const dates = at(form, 'dates');
  const needed = eventsNamed(terms).add('statement');
  const events = Object.keys(labels) as EventName[];
  const field = (event: EventName) => (
    <DateField
      key={event}
      label={labels[event]}
      required={event === 'statement'}
      {...at(dates, dateOf[event])}
    />
  );
  const others = events.filter((event) => !needed.has(event));
  return (
    <Fieldset
      legend="Days"
      hint="The quotational period and the days of payment are counted from these. Quotations after the statement’s day are left out."
    >
      {events.filter((event) => needed.has(event)).map(field)}
      {others.length === 0 ? null : (
        <details>
          <summary>Other days</summary>
          <div className="fields">{others.map(field)}</div>
        </details>
      )}
    </Fieldset>
  );
}
