import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useParams } from '@tanstack/react-router';
import { checkTerms } from '../../../api/calc/terms/check-terms.ts';
import { termsSentences } from '../../../api/calc/terms/terms-sentences.ts';
import type { TermsRecord } from '../../../api/schemas/terms-record.ts';
import { termsQuery } from '../../lib/book-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Page } from '../../parts/page.tsx';
import { ChangesLink } from '../audit/changes-link.tsx';
import { DownloadTerms } from './terms-file.tsx';
import { termsRecordQuery } from './terms-queries.ts';
import { validityText } from './validity.ts';

/** One version of a contract, read back clause by clause, with its other versions. */
export function TermsRecordPage() {
  const { termsId } = useParams({ from: '/terms/$termsId' });
  const { data: record } = useSuspenseQuery(termsRecordQuery(termsId));
  const { data: all } = useSuspenseQuery(termsQuery);
  const format = useFormat();
  const versions = all.filter((one) => one.familyId === record.familyId);
  const newest = versions.find((one) => one.isNewest);
  return (
    <Page title={record.name}>
      <Lead>
        {record.counterpartyName}, version {record.versionNumber}, in force{' '}
        {validityText(record, format.date)}.
      </Lead>
      {record.isNewest || newest === undefined ? (
        <p className="actions">
          <IfOpen change="POST /terms">
            <Link className="button" to="/terms/$termsId/edit" params={{ termsId }}>
              New version
            </Link>
          </IfOpen>
          <DownloadTerms record={record} />
        </p>
      ) : (
        <>
          <Notice level="note">
            An older version.{' '}
            <Link to="/terms/$termsId" params={{ termsId: newest.id }}>
              Version {newest.versionNumber}
            </Link>{' '}
            has taken its place.
          </Notice>
          <p className="actions">
            <DownloadTerms record={record} />
          </p>
        </>
      )}
      <FindingList findings={checkTerms(record.body)} />
      <h2>What the contract says</h2>
      <Clauses record={record} />
      <h2>Versions</h2>
      <DataTable
        caption="Every version, newest first"
        narrow="stack"
        columns={[
          { key: 'version', label: 'Version', align: 'start' },
          { key: 'valid', label: 'In force', align: 'start' },
          { key: 'name', label: 'Name', align: 'start' },
        ]}
        rows={versions.map((one) => ({
          key: one.id,
          cells: {
            version:
              one.id === record.id ? (
                `Version ${one.versionNumber} (shown)`
              ) : (
                <Link to="/terms/$termsId" params={{ termsId: one.id }}>
                  Version {one.versionNumber}
                </Link>
              ),
            valid: validityText(one, format.date),
            name: one.name,
          },
        }))}
      />
      <ChangesLink record={termsId} />
    </Page>
  );
}

/** The sentences of a contract, each clause once with all its sentences. */
function Clauses(props: { record: TermsRecord }) {
  const clauses = new Map<string, string[]>();
  for (const { clause, sentence } of termsSentences(props.record.body))
    clauses.set(clause, [...(clauses.get(clause) ?? []), sentence]);
  return (
    <dl className="contract">
      {[...clauses].map(([clause, sentences]) => (
        <div key={clause}>
          <dt>{clause}</dt>
          {sentences.map((sentence) => (
            <dd key={sentence}>{sentence}</dd>
          ))}
        </div>
      ))}
    </dl>
  );
}
