import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { TermsRecord } from '../../../api/schemas/terms-record.ts';
import { termsQuery } from '../../lib/book-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { counterpartiesQuery } from './terms-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { validityText } from './validity.ts';

export const materialWords: Record<TermsRecord['material'], string> = {
  concentrate: 'concentrate',
  dore: 'doré',
  'by-product': 'by-product',
};

const directionWords: Record<TermsRecord['body']['direction'], string> = {
  'we-sell': 'we sell',
  'we-buy': 'we buy',
  'we-toll': 'we treat for a charge',
};

/** Contracts in their newest version, by counterparty. */
export function TermsPage() {
  const { data: all } = useSuspenseQuery(termsQuery);
  const { data: counterparties } = useSuspenseQuery(counterpartiesQuery);
  const newest = all.filter((one) => one.isNewest);
  const today = todayHere();
  const inForce = newest.filter(
    (one) => one.validFrom <= today && (one.validTo === null || one.validTo >= today),
  );
  const count = (list: readonly unknown[], word: string): string =>
    list.length === 1 ? `one ${word}` : `${list.length} ${word}s`;
  return (
    <Page title="Buyers’ terms">
      {newest.length === 0 ? (
        <Lead>
          No terms are entered yet. <Link to="/terms/new">Start with a contract</Link> that is filled in with
          usual figures: it takes a few minutes, and every settlement and decision rests on it.
        </Lead>
      ) : (
        <Lead>
          {count(newest, 'contract')} with{' '}
          {counterparties.length === 1 ? 'one counterparty' : `${counterparties.length} counterparties`};{' '}
          {inForce.length === newest.length ? 'all are in force today' : `${inForce.length} in force today`}.
        </Lead>
      )}
      <p className="actions">
        <IfOpen change="POST /terms">
          <Link className="button" to="/terms/new">
            New terms
          </Link>
        </IfOpen>
        <IfOpen change="POST /counterparties">
          <Link className="button" to="/counterparties/new">
            New counterparty
          </Link>
        </IfOpen>
      </p>
      {counterparties.map((counterparty) => (
        <section key={counterparty.id} aria-labelledby={`counterparty-${counterparty.id}`}>
          <h2 id={`counterparty-${counterparty.id}`}>{counterparty.name}</h2>
          {counterparty.remarks === '' ? null : <p>{counterparty.remarks}</p>}
          <ContractTable newest={newest.filter((one) => one.counterpartyId === counterparty.id)} all={all} />
          <p>
            <Link to="/counterparties/$counterpartyId/edit" params={{ counterpartyId: counterparty.id }}>
              Change {counterparty.name}
            </Link>
          </p>
        </section>
      ))}
    </Page>
  );
}

function ContractTable(props: { newest: readonly TermsRecord[]; all: readonly TermsRecord[] }) {
  const { newest, all } = props;
  const format = useFormat();
  if (newest.length === 0) return <p className="muted">No terms with them yet.</p>;
  const older = (record: TermsRecord): TermsRecord[] =>
    all.filter((one) => one.familyId === record.familyId && !one.isNewest);
  return (
    <DataTable
      caption="Contracts"
      narrow="stack"
      columns={[
        { key: 'name', label: 'Terms', align: 'start' },
        { key: 'material', label: 'Material', align: 'start' },
        { key: 'valid', label: 'In force', align: 'start' },
        { key: 'version', label: 'Version', align: 'start' },
        { key: 'older', label: 'Older', align: 'start' },
      ]}
      rows={newest.map((record) => ({
        key: record.id,
        cells: {
          name: (
            <Link to="/terms/$termsId" params={{ termsId: record.id }}>
              {record.name}
            </Link>
          ),
          material: `${materialWords[record.material]}, ${directionWords[record.body.direction]}`,
          valid: validityText(record, format.date),
          version: String(record.versionNumber),
          older:
            older(record).length === 0
              ? 'none'
              : older(record).map((one) => (
                  <Link
                    key={one.id}
                    className="older-version"
                    to="/terms/$termsId"
                    params={{ termsId: one.id }}
                  >
                    version {one.versionNumber}
                  </Link>
                )),
        },
      }))}
    />
  );
}
