import { useSuspenseQuery } from '@tanstack/react-query';
import { api, send } from '../../api.ts';
import type { Statement } from '../../../api/schemas/statement.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { figureReader } from '../../lib/typed-figures.ts';
import { todayHere } from '../../lib/today.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { CurrencyField } from '../terms/currency-field.tsx';
import { paymentWords } from './payment-words.ts';
import { paymentsQuery } from './settlement-queries.ts';

/** What has been paid on an issued statement, what is open and by when it is due. */
export function Payments(props: { statement: Statement }) {
  const { statement } = props;
  const format = useFormat();
  const { data: payments } = useSuspenseQuery(paymentsQuery(statement.id));
  const words = paymentWords(statement, format, todayHere());
  return (
    <section aria-labelledby="payments-heading">
      <h2 id="payments-heading">Payments</h2>
      <p>
        {words.charAt(0).toUpperCase()}
        {words.slice(1)}
        {statement.dueOn === null && words !== 'nothing owed' && words !== 'paid'
          ? '. The terms name no day of payment, or its day is not entered.'
          : '.'}
      </p>
      {payments.length === 0 ? null : (
        <DataTable
          caption="Payments, oldest first"
          narrow="stack"
          columns={[
            { key: 'day', label: 'Paid on', align: 'start' },
            { key: 'amount', label: 'Amount', align: 'end' },
            { key: 'reference', label: 'Reference', align: 'start' },
            { key: 'remove', label: 'Entered wrongly?', align: 'start' },
          ]}
          rows={payments.map(({ id, paidOn, amount, currency, countsAs, reference }) => ({
            key: id,
            cells: {
              day: format.date(paidOn),
              amount:
                currency === statement.currency
                  ? format.money(amount, currency)
                  : `${format.money(amount, currency)}, counted as ${format.money(countsAs, statement.currency)}`,
              reference,
              remove: (
                <RemovePayment statementId={statement.id} id={id} what={format.money(amount, currency)} />
              ),
            },
          }))}
        />
      )}
      {words === 'nothing owed' ? null : <NewPayment statement={statement} key={payments.length} />}
    </section>
  );
}

function RemovePayment(props: { statementId: string; id: string; what: string }) {
  const { statementId, id, what } = props;
  const booksChanged = useBooksChanged();
  return (
    <ConfirmButton
      sends="DELETE /statements/:id/payments/:paymentId"
      label="Remove"
      question={`The payment of ${what} will be gone from the books.`}
      confirmLabel="Remove it"
      onConfirm={async () => {
        await send(
          api.statements[':id'].payments[':paymentId'].$delete({ param: { id: statementId, paymentId: id } }),
        );
        await booksChanged();
      }}
    />
  );
}

function NewPayment(props: { statement: Statement }) {
  const { statement } = props;
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const start = {
    paidOn: todayHere(),
    amount: '',
    currency: statement.currency,
    countsAs: '',
    reference: '',
  };
  const draft = useDraft(`payment/new ${statement.id}`, start);
  const { form } = draft;
  const typed = form.value;
  return (
    <details className="folded">
      <summary>Enter a payment</summary>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /statements/:id/payments"
        draft={draft}
        saveLabel="Keep the payment"
        onSave={async () => {
          const read = figureReader(owner);
          await send(
            api.statements[':id'].payments.$post({
              param: { id: statement.id },
              json: {
                paidOn: typed.paidOn,
                amount: read.decimal(typed.amount, '/amount'),
                currency: typed.currency,
                countsAs: read.optional(typed.countsAs, '/countsAs'),
                reference: typed.reference,
              },
            }),
          );
          draft.saved(start);
          await booksChanged();
        }}
      >
        <Fieldset legend="Payment">
          <DateField label="Paid on" required max={todayHere()} {...at(form, 'paidOn')} />
          <NumberField label="Amount" unit={typed.currency} required min={0.000001} {...at(form, 'amount')} />
          <CurrencyField label="Currency" required {...at(form, 'currency')} />
          {typed.currency === statement.currency ? null : (
            <NumberField
              label="It settles"
              unit={statement.currency}
              required
              min={0.000001}
              hint="So much of the statement, at the rate agreed."
              {...at(form, 'countsAs')}
            />
          )}
          <TextField
            label="Reference"
            maxLength={200}
            hint="As on the bank’s statement."
            {...at(form, 'reference')}
          />
        </Fieldset>
      </Form>
    </details>
  );
}
