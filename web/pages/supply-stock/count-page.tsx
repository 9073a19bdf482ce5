import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import type { StockLine } from '../../../api/schemas/supply-stock.ts';
import { api, ApiProblem, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { decimalOf } from '../../lib/parse-decimal.ts';
import { stockQuery } from '../../lib/stock-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { FieldPerSupply } from '../prices/field-per-supply.tsx';
import { amountText } from './stock-words.ts';

/** What was counted at the end of one day, of as many supplies as were looked at. */
export function CountPage() {
  const { data: overview } = useSuspenseQuery(stockQuery);
  const { lines } = overview;
  return (
    <Page title="Count the stock">
      <Lead>
        Fill in what is there at the end of the day, and leave empty what was not counted. Where the books say
        something else, the difference is booked at the average cost.
      </Lead>
      {lines.length === 0 ? (
        <p>
          No supplies are entered yet. <Link to="/prices">Enter them first</Link>.
        </p>
      ) : (
        <CountForm key={lines.map(({ supplyId }) => supplyId).join()} lines={lines} />
      )}
    </Page>
  );
}

/** Points the refusal of one count at its field among the many. */
async function underPointer(pointer: string, request: Promise<unknown>): Promise<void> {
  try {
    await request;
  } catch (error) {
    if (!(error instanceof ApiProblem)) throw error;
    const { problem } = error;
    const errors = problem.errors.map((one) => ({
      ...one,
      pointer: one.pointer === '/countedOn' ? one.pointer : pointer,
    }));
    throw new ApiProblem({ ...problem, errors }, { cause: error });
  }
}

function CountForm(props: { lines: readonly StockLine[] }) {
  const { lines } = props;
  const owner = useOwner();
  const format = useFormat();
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const draft = useDraft(`supply-count ${lines.length}`, {
    countedOn: todayHere(),
    quantities: Object.fromEntries(lines.map(({ supplyId }) => [supplyId, ''])),
  });
  const { form } = draft;
  const quantities = at(form, 'quantities');

  async function save(): Promise<void> {
    const { countedOn } = form.value;
    for (const { supplyId } of lines) {
      const quantity = decimalOf(form.value.quantities[supplyId] ?? '', owner);
      if (quantity === null) continue;
      await underPointer(
        at(quantities, supplyId).pointer,
        send(api['supply-counts'].$post({ json: { supplyId, countedOn, quantity } })),
      );
      at(quantities, supplyId).onChange('');
    }
    draft.saved();
    await booksChanged();
    await navigate({ to: '/supply-stock' });
  }

  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form sends="POST /supply-counts" label="Count" saveLabel="Save this count" onSave={save}>
        <Fieldset legend="Day">
          <DateField
            label="Counted at the end of"
            required
            max={todayHere()}
            hint="What was bought or used on this day counts before it."
            {...at(form, 'countedOn')}
          />
        </Fieldset>
        <FieldPerSupply
          supplies={lines.map((line) => ({
            id: line.supplyId,
            name: line.name,
            kind: line.kind,
            unit: line.unit === 'each' ? 'pieces' : line.unit,
            hint:
              line.stock === null
                ? 'Not counted yet: it comes in at its list price.'
                : `By the books today: ${amountText(line.stock.quantity, line.unit, format)}.`,
          }))}
          typed={quantities}
          max={10_000_000}
        />
      </Form>
    </>
  );
}
