import { Link } from '@tanstack/react-router';
import type { StatementSummary } from '../../../api/schemas/statement.ts';
import { useFormat } from '../../lib/owner.ts';
import { todayHere } from '../../lib/today.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { paymentWords } from './payment-words.ts';
import { stageNames } from './stages.ts';

/** Statements, each with its stage and total. */
export function StatementTable(props: {
  caption: string;
  statements: readonly StatementSummary[];
  /** The one that is shown on the page, which is not linked. */
  shownId?: string;
  empty?: string;
}) {
  const { caption, statements, shownId, empty } = props;
  const format = useFormat();
  const today = todayHere();
  const hasIssued = statements.some(({ status }) => status === 'issued');
  const nameOf = (one: StatementSummary): string => one.number ?? `Draft for ${one.productCode}`;
  return (
    <DataTable
      caption={caption}
      narrow="stack"
      empty={empty}
      columns={[
        { key: 'number', label: 'Statement', align: 'start' },
        { key: 'stage', label: 'Stage', align: 'start' },
        { key: 'issued', label: 'Issued on', align: 'start' },
        { key: 'party', label: 'With', align: 'start' },
        { key: 'product', label: 'Product', align: 'start' },
        { key: 'total', label: 'Total', align: 'end' },
        ...(hasIssued ? [{ key: 'payment', label: 'Payment', align: 'start' as const }] : []),
      ]}
      rows={statements.map((one) => ({
        key: one.id,
        cells: {
          number:
            one.id === shownId ? (
              `${nameOf(one)} (shown)`
            ) : (
              <Link to="/settlements/$statementId" params={{ statementId: one.id }}>
                {nameOf(one)}
              </Link>
            ),
          stage:
            one.supersedesNumber === null
              ? stageNames[one.stage]
              : `${stageNames[one.stage]}, follows ${one.supersedesNumber}`,
          issued: one.issuedOn === null ? 'not issued' : format.date(one.issuedOn),
          party: one.counterpartyName,
          product: `${one.productCode} of ${one.batchCode}`,
          payment: paymentWords(one, format, today),
          total: `${format.money(one.total, one.currency)}${one.status === 'draft' ? ' so far' : ''}`,
        },
      }))}
    />
  );
}
