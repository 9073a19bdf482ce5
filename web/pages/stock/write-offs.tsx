import { useQuery } from '@tanstack/react-query';
import { api, send } from '../../api.ts';
import type { StockLot, StockProduct } from '../../../api/schemas/stock.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { storedOf } from '../../lib/quantities.ts';
import { writeOffsQuery } from '../../lib/production-queries.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { todayHere } from '../../lib/today.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { PageLinks } from '../../parts/page-links.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { TextField } from '../../parts/text-field.tsx';

/** What was lost or thrown away, with the reason, and a form to say so. */
export function WriteOffs(props: { lots: StockLot[]; products: StockProduct[] }) {
  const { lots, products } = props;
  const format = useFormat();
  const booksChanged = useBooksChanged();
  const after = useAsked('write-offs');
  const { data: page } = useQuery(writeOffsQuery(after));
  const writeOffs = page?.rows ?? [];
  return (
    <>
      <h2>Written off</h2>
      <DataTable
        caption="Write-offs, newest first"
        narrow="stack"
        empty="Nothing was written off."
        columns={[
          { key: 'code', label: 'What', align: 'start' },
          { key: 'on', label: 'On', align: 'start' },
          { key: 'mass', label: 'Mass', align: 'end' },
          { key: 'reason', label: 'Reason', align: 'start' },
          { key: 'more', label: 'More', align: 'start' },
        ]}
        rows={writeOffs.map((one) => ({
          key: one.id,
          cells: {
            code: one.code,
            on: format.date(one.writtenOffOn),
            mass: format.quantity('lotMassKg', one.massKg),
            reason: one.reason,
            more: (
              <ConfirmButton
                sends="DELETE /write-offs/:id"
                label={`Take back that of ${one.code}`}
                question={`Take the write-off of ${one.code} back? Its mass is there again.`}
                confirmLabel="Take it back"
                onConfirm={async () => {
                  await send(api['write-offs'][':id'].$delete({ param: { id: one.id } }));
                  await booksChanged();
                }}
              />
            ),
          },
        }))}
      />
      <PageLinks of="write-offs" name="write-offs" after={after} next={page?.next ?? null} />
      <NewWriteOff lots={lots} products={products} />
    </>
  );
}

function NewWriteOff({ lots, products }: { lots: StockLot[]; products: StockProduct[] }) {
  const owner = useOwner();
  const format = useFormat();
  const booksChanged = useBooksChanged();
  const start = { what: '', writtenOffOn: todayHere(), massKg: '', reason: '' };
  const draft = useDraft('write-off', start);
  const { form } = draft;
  const open = products.filter(
    ({ where }) => where === 'in-stock' || where === 'under-way' || where === 'at-buyer',
  );
  const isLot = form.value.what.startsWith('lot:');
  const chosen = isLot
    ? lots.find(({ id }) => form.value.what === `lot:${id}`)
    : open.find(({ id }) => form.value.what === `product:${id}`);
  return (
    <details className="new-product">
      <summary>Write something off</summary>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /write-offs"
        draft={draft}
        label="Write off"
        saveLabel="Write it off"
        onSave={async () => {
          const [kind = '', id = ''] = form.value.what.split(':');
          await send(
            api['write-offs'].$post({
              json: {
                lotId: kind === 'lot' ? id : null,
                productId: kind === 'product' ? id : null,
                writtenOffOn: form.value.writtenOffOn,
                massKg: storedOf('lotMassKg', form.value.massKg, owner) ?? '',
                reason: form.value.reason,
              },
            }),
          );
          draft.saved(start);
          await booksChanged();
        }}
      >
        <Fieldset legend="What is gone">
          <ChoiceField
            label="Lot or product"
            required
            none="Choose"
            choices={[
              ...lots.map(({ id, code }) => ({ value: `lot:${id}`, label: `Lot ${code}` })),
              ...open.map(({ id, code }) => ({ value: `product:${id}`, label: code })),
            ]}
            {...at(form, 'what')}
          />
          <DateField label="Written off on" required {...at(form, 'writtenOffOn')} />
          <QuantityField
            label={isLot ? 'Dry mass' : 'Mass, as weighed'}
            quantity="lotMassKg"
            required
            hint={chosen === undefined ? undefined : `Left: ${format.quantity('lotMassKg', chosen.leftKg)}.`}
            {...at(form, 'massKg')}
          />
          <TextField label="Reason" required maxLength={2000} lines={2} {...at(form, 'reason')} />
        </Fieldset>
      </Form>
    </details>
  );
}
