import { useState } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import type { Lot } from '../../../api/schemas/lot.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { useActor } from '../../lib/session.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { counterpartiesQuery } from '../terms/terms-queries.ts';

/** Whose lot it is, for a mill that works up what belongs to others: the customer's account sees it. */
export function LotOwner(props: { lot: Lot }) {
  const { lot } = props;
  const { role } = useActor();
  const { data: counterparties } = useSuspenseQuery(counterpartiesQuery);
  const booksChanged = useBooksChanged();
  const [chosen, setChosen] = useState(lot.ownerCounterpartyId ?? '');
  const named = counterparties.find(({ id }) => id === lot.ownerCounterpartyId)?.name;
  if (counterparties.length === 0) return null;
  return (
    <>
      <h2>Whose lot it is</h2>
      <p>{named === undefined ? 'The mill’s own.' : `It belongs to ${named}, whose account may see it.`}</p>
      {role !== 'owner' ? null : (
        <details className="record-form">
          <summary>Say whose lot it is</summary>
          <Form
            sends="PUT /lots/:id/owner"
            label="Say whose lot it is"
            saveLabel="Save whose lot it is"
            onSave={async () => {
              const json = { counterpartyId: chosen === '' ? null : chosen };
              await send(api.lots[':id'].owner.$put({ param: { id: lot.id }, json }));
              await booksChanged();
            }}
          >
            <Fieldset legend="Owner of the lot">
              <ChoiceField
                label="It belongs to"
                pointer="/counterpartyId"
                value={chosen}
                onChange={setChosen}
                none="the mill itself"
                choices={counterparties.map(({ id, name }) => ({ value: id, label: name }))}
              />
            </Fieldset>
          </Form>
        </details>
      )}
    </>
  );
}
