import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import type { BuyerStatement } from '../../../api/schemas/buyer-statement.ts';
import type { Statement } from '../../../api/schemas/statement.ts';
import { api, ifMatch, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { termsQuery } from '../../lib/book-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { statementQuery } from '../settlements/settlement-queries.ts';
import { BuyerForm } from './buyer-form.tsx';
import { buyerStatementsQuery } from './buyer-queries.ts';

/** What the other party reckons, held against a statement of ours. */
export function BuyerStatementPage() {
  const statementId = useRecordId('statementId');
  const { data: ours } = useSuspenseQuery(statementQuery(statementId));
  const { data: kept } = useSuspenseQuery(buyerStatementsQuery(statementId));
  const { data: terms } = useSuspenseQuery(termsQuery);
  const asked = useAsked('theirs');
  const record = asked === 'new' ? null : (kept.find(({ id }) => id === asked) ?? kept[0] ?? null);
  const direction = terms.find(({ id }) => id === ours.termsId)?.body.direction;
  const name = ours.number ?? `the draft for ${ours.productCode}`;
  return (
    <Page title={`${ours.counterpartyName} against ${name}`}>
      <Lead>
        {record === null
          ? `Type what ${ours.counterpartyName} prints beside our lines. Every difference is shown in money as you type, and what would explain it is looked for by working ours again.`
          : `Their statement ${record.number} is kept and held against ours.`}
      </Lead>
      <p className="actions">
        <Link className="button" to="/settlements/$statementId" params={{ statementId }}>
          Our statement {ours.number ?? '(draft)'}
        </Link>
        {record === null ? null : <RecordActions record={record} />}
      </p>
      <OtherStatements ours={ours} kept={kept} shown={record} />
      <BuyerForm
        key={`${record?.id ?? 'new'} ${record?.version ?? 0} ${ours.version}`}
        ours={ours}
        record={record}
        weAreOwed={direction === 'we-sell'}
      />
    </Page>
  );
}

function RecordActions(props: { record: BuyerStatement }) {
  const { record } = props;
  const { statementId } = record;
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  return (
    <ConfirmButton
      sends="DELETE /buyer-statements/:id"
      label="Remove their statement"
      question={`What was entered of their statement ${record.number} will be gone. Ours stays as it is.`}
      confirmLabel="Remove it"
      onConfirm={async () => {
        await send(
          api['buyer-statements'][':id'].$delete({ param: { id: record.id } }, ifMatch(record.version)),
        );
        await navigate({ to: '/settlements/$statementId/buyer', params: { statementId }, search: {} });
        await booksChanged();
      }}
    />
  );
}

/** What else they sent for the same statement of ours: a corrected one follows, the first stays. */
function OtherStatements(props: {
  ours: Statement;
  kept: readonly BuyerStatement[];
  shown: BuyerStatement | null;
}) {
  const { ours, kept, shown } = props;
  const format = useFormat();
  if (kept.length === 0) return null;
  const to = '/settlements/$statementId/buyer';
  const params = { statementId: ours.id };
  const others = kept.filter((one) => one !== shown);
  return (
    <p>
      {others.map((one) => (
        <span key={one.id}>
          <Link to={to} params={params} search={{ theirs: one.id }}>
            {one.number} of {format.date(one.datedOn)}
          </Link>
          {'. '}
        </span>
      ))}
      {shown === null ? null : (
        <>
          Did they send a corrected one?{' '}
          <Link to={to} params={params} search={{ theirs: 'new' }}>
            Enter another statement of theirs
          </Link>
          .
        </>
      )}
    </p>
  );
}
