import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate, useParams } from '@tanstack/react-router';
import { api, ifMatch, send } from '../../api.ts';
import type { Statement, StatementSummary } from '../../../api/schemas/statement.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { statementsOfProductsQuery } from '../../lib/book-queries.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Page } from '../../parts/page.tsx';
import { ChangesLink } from '../audit/changes-link.tsx';
import { ReportView } from '../../parts/report-view.tsx';
import { IssueStatement } from './issue-statement.tsx';
import { Payments } from './payments.tsx';
import { termsRecordQuery } from '../terms/terms-queries.ts';
import { issuedFor } from './products.ts';
import { statementQuery, statementReportQuery } from './settlement-queries.ts';
import { allowedStages, stageNames } from './stages.ts';
import { StatementTable } from './statement-table.tsx';

/** One statement as it prints, with what can be done with it. */
export function StatementPage() {
  const { statementId } = useParams({ from: '/settlements/$statementId' });
  const { data: statement } = useSuspenseQuery(statementQuery(statementId));
  const { data: report } = useSuspenseQuery(statementReportQuery(statementId));
  const { data: chain } = useSuspenseQuery(statementsOfProductsQuery([statement.productId]));
  const title =
    statement.number === null
      ? `Draft for ${statement.productCode}`
      : `Statement ${statement.number}, ${stageNames[statement.stage].toLowerCase()}`;
  return (
    <Page title={title}>
      <div className="actions">
        {statement.status === 'draft' ? (
          <DraftActions statement={statement} />
        ) : (
          <IssuedActions statement={statement} chain={chain} />
        )}
        <Link className="button" to="/settlements/$statementId/buyer" params={{ statementId }}>
          {statement.counterpartyName}’s own statement against this
        </Link>
      </div>
      <ReportView report={report} />
      {statement.status === 'issued' ? <Payments statement={statement} /> : null}
      {chain.length < 2 ? null : (
        <>
          <h2>All statements for {statement.productCode}</h2>
          <StatementTable caption="In the order of their numbers" statements={chain} shownId={statement.id} />
        </>
      )}
      <ChangesLink record={statement.id} />
    </Page>
  );
}

const pdfAddress = (id: string): string => `/api/statements/${id}/statement.pdf`;

function DraftActions(props: { statement: Statement }) {
  const { statement } = props;
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const isBlocked = statement.settlement.findings.some((finding) => finding.level === 'blocker');
  return (
    <>
      {isBlocked ? null : <IssueStatement key={statement.version} statement={statement} />}
      <IfOpen change="POST /statements">
        <Link className="button" to="/settlements/$statementId/edit" params={{ statementId: statement.id }}>
          Change the draft
        </Link>
      </IfOpen>
      <a className="button" href={pdfAddress(statement.id)}>
        PDF of the draft
      </a>
      <ConfirmButton
        sends="DELETE /statements/:id"
        label="Throw the draft away"
        question={`The draft for ${statement.productCode} will be gone. Nothing that was issued is touched.`}
        confirmLabel="Throw it away"
        onConfirm={async () => {
          await send(
            api.statements[':id'].$delete({ param: { id: statement.id } }, ifMatch(statement.version)),
          );
          await navigate({ to: '/settlements' });
          await booksChanged();
        }}
      />
    </>
  );
}

function IssuedActions(props: { statement: Statement; chain: readonly StatementSummary[] }) {
  const { statement, chain } = props;
  const { data: terms } = useSuspenseQuery(termsRecordQuery(statement.termsId));
  const issued = issuedFor(chain, statement.productId);
  const isLatest = issued.at(-1)?.id === statement.id;
  return (
    <>
      <a className="button" href={pdfAddress(statement.id)}>
        PDF to print and sign
      </a>
      {isLatest
        ? allowedStages(issued, terms.body).map((stage) => (
            <IfOpen change="POST /statements" key={stage}>
              <Link
                key={stage}
                className="button"
                to="/settlements/new"
                search={{ product: statement.productId, stage }}
              >
                Follow with{' '}
                {stage === 'adjustment' ? 'an adjustment' : `the ${stageNames[stage].toLowerCase()}`}
              </Link>
            </IfOpen>
          ))
        : null}
    </>
  );
}
