import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import type { Supply } from '../../../api/schemas/supply.ts';
import { api, ApiProblem, send } from '../../api.ts';
import { suppliesQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { decimalOf } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { FieldPerSupply } from './field-per-supply.tsx';
import { priceText, priceUnit } from './supply-words.ts';

/** The prices of one day for as many supplies as have changed, as an invoice or a price list gives them. */
export function EnterPricesPage() {
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  return (
    <Page title="Enter prices">
      <Lead>
        Fill in what has a new price and leave the rest empty. A price holds from its day until the next one;
        the earlier ones are kept, for what was made under them.
      </Lead>
      {supplies.length === 0 ? (
        <p>
          No supplies are entered yet. <Link to="/prices">Enter them first</Link>.
        </p>
      ) : (
        <PricesForm key={supplies.map(({ id }) => id).join()} supplies={supplies} />
      )}
    </Page>
  );
}

/** Points the refusal of one price at its field among the many. */
async function underPointer(pointer: string, request: Promise<unknown>): Promise<void> {
  try {
    await request;
  } catch (error) {
    if (!(error instanceof ApiProblem)) throw error;
    const { problem } = error;
    const errors = problem.errors.map((one) => ({
      ...one,
      pointer: one.pointer === '/effectiveOn' ? one.pointer : pointer,
    }));
    throw new ApiProblem({ ...problem, errors }, { cause: error });
  }
}

function PricesForm(props: { supplies: readonly Supply[] }) {
  const { supplies } = props;
  const owner = useOwner();
  const format = useFormat();
  const today = todayHere();
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const draft = useDraft(`prices ${supplies.length}`, {
    effectiveOn: today,
    prices: Object.fromEntries(supplies.map(({ id }) => [id, ''])),
  });
  const { form } = draft;
  const prices = at(form, 'prices');

  async function save(): Promise<void> {
    const { effectiveOn } = form.value;
    for (const { id } of supplies) {
      const price = decimalOf(form.value.prices[id] ?? '', owner);
      if (price === null) continue;
      await underPointer(
        at(prices, id).pointer,
        send(
          api.supplies[':id'].prices.$post({
            param: { id },
            json: { effectiveOn, price, currency: owner.currency },
          }),
        ),
      );
    }
    draft.saved();
    await booksChanged();
    await navigate({ to: '/prices' });
  }

  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form sends="POST /supplies/:id/prices" saveLabel="Save these prices" onSave={save}>
        <Fieldset legend="Day">
          <DateField
            label="Prices hold from"
            required
            hint="A price already on record for this day is corrected."
            {...at(form, 'effectiveOn')}
          />
        </Fieldset>
        <FieldPerSupply
          supplies={supplies.map((supply) => ({
            ...supply,
            unit: priceUnit(owner.currency, supply.unit),
            hint: `Now: ${priceText(supply, form.value.effectiveOn, format) ?? 'no price yet'}.`,
          }))}
          typed={prices}
          max={1_000_000_000}
          decimals={8}
        />
      </Form>
    </>
  );
}
