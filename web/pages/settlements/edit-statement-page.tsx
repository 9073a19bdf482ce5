import { useMemo } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useParams } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { batchOfProductQuery, statementsOfProductsQuery, termsQuery } from '../../lib/book-queries.ts';
import { useOwner } from '../../lib/owner.ts';
import { Notice } from '../../parts/notice.tsx';
import { Page } from '../../parts/page.tsx';
import { issuedFor, settleable, termsFor } from './products.ts';
import { statementQuery } from './settlement-queries.ts';
import { StatementForm } from './statement-form.tsx';
import { draftOfEntry } from './starting-statement.ts';

/** A draft statement to be changed; an issued one is only followed. */
export function EditStatementPage() {
  const { statementId } = useParams({ from: '/settlements/$statementId/edit' });
  const { data: statement } = useSuspenseQuery(statementQuery(statementId));
  const { data: statements } = useSuspenseQuery(statementsOfProductsQuery([statement.productId]));
  const { data: allTerms } = useSuspenseQuery(termsQuery);
  const { data: batch } = useSuspenseQuery(batchOfProductQuery(statement.productId));
  const owner = useOwner();
  const initial = useMemo(() => draftOfEntry(statement.entry, owner), [statement, owner]);
  const back = (
    <Link to="/settlements/$statementId" params={{ statementId }}>
      Back to the statement
    </Link>
  );
  const found = settleable(batch === null ? [] : [batch]).find(
    ({ product }) => product.id === statement.productId,
  );
  if (statement.status === 'issued' || found === undefined)
    return (
      <Page title={`Statement ${statement.number ?? ''}`}>
        <Notice level="note">It has been issued and stays as it is; only another can follow it.</Notice>
        <p>{back}</p>
      </Page>
    );
  return (
    <Page title={`Change the draft for ${statement.productCode}`}>
      <StatementForm
        key={`${statement.id} ${statement.version}`}
        formName={`statement/${statement.id}`}
        initial={initial}
        terms={termsFor(allTerms, found.product, [statement.termsId, found.batch.termsId])}
        issued={issuedFor(statements, statement.productId)}
        saveLabel="Save the draft"
        save={(entry) =>
          send(
            api.statements[':id'].$put({
              param: { id: statement.id },
              json: { ...entry, version: statement.version },
            }),
          )
        }
      />
      <p>{back}</p>
    </Page>
  );
}
