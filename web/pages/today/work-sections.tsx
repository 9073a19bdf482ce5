import type { ReactNode } from 'react';
import { Link } from '@tanstack/react-router';
import type { WaitingBatch, WaitingStatement } from '../../../api/schemas/today.ts';
import { metalName } from '../../lib/metals.ts';
import { useFormat } from '../../lib/owner.ts';
import { ageText } from '../prices/series.ts';
import type { UnfinishedWork } from './unfinished-work.ts';

function Section(props: {
  title: string;
  items: readonly { key: string; line: ReactNode }[];
  /** How many there are in all, where not all are listed. */
  count?: number;
}) {
  const { title, items, count = items.length } = props;
  if (items.length === 0) return null;
  return (
    <section>
      <h3>{title}</h3>
      <ul className="work-list">
        {items.map(({ key, line }) => (
          <li key={key}>{line}</li>
        ))}
        {count > items.length ? <li key="more">and {count - items.length} more.</li> : null}
      </ul>
    </section>
  );
}

function BatchLink({ batch }: { batch: WaitingBatch }) {
  return (
    <Link to="/batches/$batchId" params={{ batchId: batch.id }}>
      {batch.code}
    </Link>
  );
}

function StatementLink({ statement }: { statement: WaitingStatement }) {
  const { id, number, productCode } = statement;
  return (
    <Link to="/settlements/$statementId" params={{ statementId: id }}>
      {number ?? `Draft for ${productCode}`}
    </Link>
  );
}

/** `Gold and silver 42 days old, lead 9 days old`. */
function staleText(stale: UnfinishedWork['stale'], today: string): string {
  const byAge = new Map<string, string[]>();
  for (const { metal, quotedOn } of stale) {
    const age = ageText(quotedOn, today);
    byAge.set(age, [...(byAge.get(age) ?? []), metalName(metal)]);
  }
  const text = [...byAge]
    .map(([age, names]) => `${new Intl.ListFormat('en').format(names)} ${age} old`)
    .join(', ');
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

/** What is waiting, most pressing first; what has nothing waiting is left out. */
export function WorkSections(props: { work: UnfinishedWork; today: string }) {
  const { work, today } = props;
  const format = useFormat();
  const mass = (kg: string): string => format.quantity('lotMassKg', kg, 1);
  const wayOf = ({ treatmentName, counterpartyName }: WaitingBatch): string =>
    treatmentName ?? `sold to ${counterpartyName}`;
  return (
    <>
      <Section
        title="Batches running"
        count={work.running.count}
        items={work.running.first.map((batch) => ({
          key: batch.id,
          line: (
            <>
              <BatchLink batch={batch} />: {mass(batch.dryMassKg)} of lot {batch.lotCode}, {wayOf(batch)}
              {batch.startedOn === null ? '' : `, since ${format.date(batch.startedOn)}`}. Enter what came of
              it when it is done.
            </>
          ),
        }))}
      />
      <Section
        title="Batches planned"
        count={work.planned.count}
        items={work.planned.first.map((batch) => ({
          key: batch.id,
          line: (
            <>
              <BatchLink batch={batch} />: {mass(batch.dryMassKg)} of lot {batch.lotCode}, {wayOf(batch)},
              planned on {format.date(batch.plannedOn)}.
            </>
          ),
        }))}
      />
      <Section
        title="Done and not settled"
        count={work.unsettled.count}
        items={work.unsettled.first.map((batch) => ({
          key: batch.id,
          line: (
            <>
              <BatchLink batch={batch} />: {wayOf(batch)}, done on {format.date(batch.finishedOn)}. No
              statement is issued for it.
            </>
          ),
        }))}
      />
      <Section
        title="Drafts not issued"
        count={work.drafts.count}
        items={work.drafts.first.map((statement) => ({
          key: statement.id,
          line: (
            <>
              <StatementLink statement={statement} />: {statement.stage.replace('-', ' ')} with{' '}
              {statement.counterpartyName}, {format.money(statement.total, statement.currency)} as it stands.
            </>
          ),
        }))}
      />
      <Section
        title="Provisional, waiting for the final statement"
        count={work.provisional.count}
        items={work.provisional.first.map((statement) => ({
          key: statement.id,
          line: (
            <>
              <StatementLink statement={statement} />: {statement.productCode} with{' '}
              {statement.counterpartyName}, {format.money(statement.total, statement.currency)}, issued on{' '}
              {format.date(statement.issuedOn)}.
            </>
          ),
        }))}
      />
      <Section
        title="Lots with mass left"
        count={work.lotsLeft.count}
        items={work.lotsLeft.first.map((lot) => ({
          key: lot.id,
          line: (
            <>
              <Link to="/lots/$lotId" params={{ lotId: lot.id }}>
                {lot.code}
              </Link>
              : {mass(lot.leftKg)} dry left.{' '}
              <Link to="/decide" search={{ lot: lot.id }}>
                Decide what to do with {lot.code}
              </Link>
            </>
          ),
        }))}
      />
      <Section
        title="Supplies without a price"
        items={
          work.unpriced.length === 0
            ? []
            : [
                {
                  key: 'supplies',
                  line: (
                    <>
                      {work.unpriced.map(({ name }) => name).join(', ')}: what needs them cannot be costed.{' '}
                      <Link to="/prices/enter">Enter prices</Link>
                    </>
                  ),
                },
              ]
        }
      />
      <Section
        title="Old quotations"
        items={
          work.stale.length === 0
            ? []
            : [
                {
                  key: 'quotations',
                  line: (
                    <>
                      {staleText(work.stale, today)}; decisions rest on them.{' '}
                      <Link to="/prices">Enter today’s</Link> or{' '}
                      <Link to="/import" search={{ kind: 'quotations' }}>
                        import them
                      </Link>
                    </>
                  ),
                },
              ]
        }
      />
    </>
  );
}
