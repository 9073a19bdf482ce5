import { useMemo } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useLocation, useParams } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { termsQuery } from '../../lib/book-queries.ts';
import { useOwner } from '../../lib/owner.ts';
import { todayHere } from '../../lib/today.ts';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Page } from '../../parts/page.tsx';
import { draftOfTerms } from './draft-of-terms.ts';
import { figureWriter } from '../../lib/typed-figures.ts';
import { TermsForm } from './terms-form.tsx';
import type { RecordDraft } from './terms-form.tsx';
import { termsRecordQuery } from './terms-queries.ts';
import { usualTerms } from './usual-terms.ts';
import type { StartingPoint } from './usual-terms.ts';

const titles: Record<StartingPoint, string> = {
  concentrate: 'New concentrate contract',
  dore: 'New doré refining contract',
};

const shortNames: Record<StartingPoint, string> = { concentrate: 'Concentrate', dore: 'Doré' };

const isStart = (text: unknown): text is StartingPoint => text === 'concentrate' || text === 'dore';

/** New terms: first what they are to be like, then the editor. */
export function NewTermsPage() {
  const start = useLocation({ select: ({ search }) => (search as Record<string, unknown>).start });
  return isStart(start) ? <NewTerms key={start} start={start} /> : <ChooseStart />;
}

function ChooseStart() {
  return (
    <Page title="New terms">
      <Lead>
        Start from a working contract for gold and silver, and put the buyer’s own figures in place of the
        usual ones.
      </Lead>
      <p className="actions">
        <IfOpen change="POST /terms">
          <Link className="button" to="/terms/new" search={{ start: 'concentrate' }}>
            Concentrate contract
          </Link>
        </IfOpen>
        <IfOpen change="POST /terms">
          <Link className="button" to="/terms/new" search={{ start: 'dore' }}>
            Doré refining
          </Link>
        </IfOpen>
      </p>
      <p>
        A contract that was written to a file is read in on either page. By-products and toll agreements start
        from whichever is nearer.
      </p>
    </Page>
  );
}

function NewTerms(props: { start: StartingPoint }) {
  const { start } = props;
  const owner = useOwner();
  const initial = useMemo(
    (): RecordDraft => ({
      counterpartyId: '',
      counterparty: { name: '', address: '' },
      name: `${shortNames[start]} ${todayHere().slice(0, 4)}`,
      validFrom: todayHere(),
      validTo: '',
      body: draftOfTerms(usualTerms(start, owner.currency), figureWriter(owner)),
    }),
    [start, owner],
  );
  return (
    <Page title={titles[start]}>
      <Lead>
        The figures below are only usual ones. Unfold each clause and put in what your contract says; the
        sentence follows.
      </Lead>
      <TermsForm
        formName={`terms/new/${start}`}
        initial={initial}
        saveLabel="Save these terms"
        save={(sent) => send(api.terms.$post({ json: sent }))}
      />
    </Page>
  );
}

/** The next version of terms; the one before stays for what was settled under it. */
export function NextTermsPage() {
  const { termsId } = useParams({ from: '/terms/$termsId/edit' });
  const owner = useOwner();
  const { data: record } = useSuspenseQuery(termsRecordQuery(termsId));
  const { data: all } = useSuspenseQuery(termsQuery);
  const newest = all.find((one) => one.familyId === record.familyId && one.isNewest);
  const initial = useMemo(
    (): RecordDraft => ({
      counterpartyId: record.counterpartyId,
      counterparty: { name: '', address: '' },
      name: record.name,
      validFrom: record.validFrom,
      validTo: record.validTo ?? '',
      body: draftOfTerms(record.body, figureWriter(owner)),
    }),
    [record, owner],
  );
  return (
    <Page title={`${record.name}: next version`}>
      {record.isNewest || newest === undefined ? (
        <Lead>
          This becomes version {record.versionNumber + 1}. Version {record.versionNumber} stays as it is, for
          what was planned and settled under it.
        </Lead>
      ) : (
        <Notice level="warning">
          This is version {record.versionNumber}, and version {newest.versionNumber} has taken its place. Only
          the newest can be followed:{' '}
          <Link to="/terms/$termsId/edit" params={{ termsId: newest.id }}>
            start from version {newest.versionNumber}
          </Link>
          .
        </Notice>
      )}
      <TermsForm
        key={record.id}
        formName={`terms/${record.id}`}
        initial={initial}
        saveLabel={`Save as version ${record.versionNumber + 1}`}
        save={(sent) =>
          send(
            api.terms[':id'].versions.$post({
              param: { id: record.id },
              json: { ...sent, afterVersionNumber: record.versionNumber },
            }),
          )
        }
      />
      <p>
        <Link to="/terms/$termsId" params={{ termsId }}>
          Back to {record.name}
        </Link>
      </p>
    </Page>
  );
}
