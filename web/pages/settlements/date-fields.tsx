import { quotedBases } from '../../../api/calc/terms/price-bases.ts';
import type { EventName } from '../../../api/calc/terms/term-units.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { dateOf } from './statement-draft.ts';
import type { StatementDraft } from './statement-draft.ts';

const labels: Record<EventName, string> = {
  shipment: 'Shipped on',
  arrival: 'Arrived on',
  weighing: 'Weighed on',
  melting: 'Melted on',
  'assay-exchange': 'Assays exchanged on',
  'price-declaration': 'Price declared on',
  statement: 'Statement of',
};

/** Events from which the contract counts days. */
export function eventsNeeded(terms: Terms): Set<EventName> {
  const needed = new Set<EventName>(['statement']);
  for (const { price } of terms.metals) {
    for (const { period } of quotedBases(price.basis)) if (period.kind !== 'dates') needed.add(period.event);
  }
  for (const payment of terms.payment) needed.add(payment.after);
  for (const rate of terms.exchangeRates) needed.add(rate.rateOn);
  if (terms.interest?.period.kind === 'until') needed.add(terms.interest.period.event);
  return needed;
}

/** The days that the contract counts from; the others are folded in. */
export function DateFields(props: { form: Binding<StatementDraft>; terms: Terms }) {
  const { form, terms } = props;
  const dates = at(form, 'dates');
  const needed = eventsNeeded(terms);
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
