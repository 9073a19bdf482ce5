import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import type { DecisionRecord } from '../../../api/schemas/decision.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { decisionQuery, decisionReportQuery } from '../../lib/decision-queries.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { differingFrom } from '../../lib/use-search-state.ts';
import { shownText } from '../../lib/quantities.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Page } from '../../parts/page.tsx';
import { ReportView } from '../../parts/report-view.tsx';
import { startingWhatIf, writeWhatIf } from '../decide/what-if.ts';

/** A recorded decision as it was frozen, with what came of it. */
export function DecisionPage() {
  const decisionId = useRecordId('decisionId');
  const { data: decision } = useSuspenseQuery(decisionQuery(decisionId));
  const { data: report } = useSuspenseQuery(decisionReportQuery(decisionId));
  const format = useFormat();
  const print = `/api/decisions/${decision.id}/decision.pdf`;
  return (
    <Page title={`Decision of ${format.date(decision.decidedOn)} about ${decision.lotCode}`}>
      <p className="actions">
        <PlanFrom decision={decision} />
        <a className="button" href={print}>
          To print (PDF)
        </a>
        <a className="button" href={`${print}?paper=A4`}>
          A4
        </a>
        <a className="button" href={`${print}?paper=Letter`}>
          Letter
        </a>
        <Link className="button" to="/lots/$lotId" params={{ lotId: decision.lotId }}>
          Lot {decision.lotCode}
        </Link>
        <Link className="button" to="/decisions">
          All decisions
        </Link>
      </p>
      <WasItRight decision={decision} />
      <ReportView report={report} />
      <RemoveDecision decision={decision} />
    </Page>
  );
}

/** What came of a decision that was carried out, held against what was forecast of it. */
function WasItRight(props: { decision: DecisionRecord }) {
  const { chosen, batches } = props.decision;
  if (chosen === null || batches.length === 0) return null;
  return (
    <section aria-label="Was it right?">
      <h2>Was it right?</h2>
      {batches.map(({ batchId, batchCode, hindsight }) => (
        <p key={batchId}>
          <Link to="/batches/$batchId" params={{ batchId }}>
            Batch {batchCode}
          </Link>
          : {hindsight === null ? 'not settled yet, so nothing can be said.' : hindsight.sentence}
        </p>
      ))}
    </section>
  );
}

/** Leads to a batch that carries the decision out, on the same assumptions. */
function PlanFrom(props: { decision: DecisionRecord }) {
  const { decision } = props;
  const owner = useOwner();
  if (decision.chosen === null) return null;
  const whatIf = {
    ...writeWhatIf(decision.assumptions, owner),
    lot: decision.lotId,
    mass: shownText('lotMassKg', decision.dryMassKg, owner),
  };
  return (
    <IfOpen change="POST /batches">
      <Link
        className="button"
        to="/batches/new"
        search={{
          ...differingFrom(startingWhatIf, whatIf),
          option: decision.chosen.optionId,
          decision: decision.id,
        }}
      >
        Plan a batch from it
      </Link>
    </IfOpen>
  );
}

function RemoveDecision(props: { decision: DecisionRecord }) {
  const { decision } = props;
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  return (
    <div className="actions">
      <ConfirmButton
        sends="DELETE /decisions/:id"
        label="Remove this decision"
        question="The decision, its reason and all that was frozen with it will be gone. A decision that a batch names cannot be removed."
        confirmLabel="Remove the decision"
        onConfirm={async () => {
          await send(api.decisions[':id'].$delete({ param: { id: decision.id } }));
          await navigate({ to: '/decisions' });
          await booksChanged();
        }}
      />
    </div>
  );
}
