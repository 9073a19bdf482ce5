import { useState } from 'react';
import { keepPreviousData, queryOptions, useQuery, useSuspenseQuery } from '@tanstack/react-query';
import type { Change, ChangedRecord } from '../../../api/schemas/audit.ts';
import { api, send } from '../../api.ts';
import { useFormat } from '../../lib/owner.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { TextField } from '../../parts/text-field.tsx';

interface Asked {
  record: string;
  actor: string;
  from: string;
  to: string;
  before: string;
}

const changesQuery = (asked: Asked) =>
  queryOptions({
    queryKey: ['audit', asked],
    queryFn: () =>
      send(
        api.audit.$get({
          query: Object.fromEntries(Object.entries(asked).filter(([, value]) => value !== '')),
        }),
      ),
  });

const actions: Record<ChangedRecord['action'], string> = {
  found: 'was there when the audit began',
  insert: 'entered',
  update: 'changed',
  delete: 'removed',
  truncate: 'emptied',
};

/** Who changed what, when, from what to what: of one record, or of all. */
export function ChangesPage() {
  const record = useAsked('record');
  const [actor, setActor] = useState('');
  const [from, setFrom] = useState('');
  const [to, setTo] = useState('');
  const [earlier, setEarlier] = useState<string[]>([]);
  const asked = { record, actor, from, to };
  const { data: newest } = useSuspenseQuery(
    changesQuery({ record, actor: '', from: '', to: '', before: '' }),
  );
  const { data: list = newest } = useQuery({
    ...changesQuery({ ...asked, before: earlier.at(-1) ?? '' }),
    placeholderData: keepPreviousData,
  });
  const { changes, next, head } = list;
  const set = (change: (text: string) => void) => (text: string) => {
    setEarlier([]);
    change(text);
  };
  return (
    <Page title="Changes">
      <Lead>
        {changes.length === 0
          ? 'Nothing was changed that fits.'
          : record === ''
            ? 'Everything that was entered, changed or removed, newest first. These pages cannot alter it.'
            : 'What was entered, changed or removed of this record, newest first.'}
      </Lead>
      <div className="fields">
        <TextField label="By" maxLength={120} hint="The whole name." value={actor} onChange={set(setActor)} />
        <DateField label="From" value={from} onChange={set(setFrom)} />
        <DateField label="To" value={to} onChange={set(setTo)} />
      </div>
      <ChangeTable changes={changes} />
      <p className="actions">
        {earlier.length === 0 ? null : (
          <button type="button" onClick={() => setEarlier(earlier.slice(0, -1))}>
            Newer changes
          </button>
        )}
        {next === null ? null : (
          <button type="button" onClick={() => setEarlier([...earlier, next])}>
            Older changes
          </button>
        )}
      </p>
      <p className="muted">
        The last entry of all is {head.sequence}, its fingerprint{' '}
        <span className="fingerprint">{head.hash}</span>. Note both elsewhere: with “npm start -- --verify”
        they prove later that nothing before was altered.
      </p>
    </Page>
  );
}

function ChangeTable(props: { changes: readonly Change[] }) {
  const format = useFormat();
  return (
    <DataTable
      caption="Changes, newest first"
      narrow="stack"
      empty="No change."
      columns={[
        { key: 'at', label: 'When', align: 'start' },
        { key: 'actor', label: 'Who', align: 'start' },
        { key: 'what', label: 'What', align: 'start' },
      ]}
      rows={props.changes.map((change) => ({
        key: change.sequence,
        cells: {
          at: format.dateTime(new Date(change.at)),
          actor: change.actor === 'program' ? 'the program itself' : change.actor,
          what: (
            <>
              {change.records.map((one) => (
                <RecordChange key={one.sequence} record={one} />
              ))}
              {change.entryCount > change.records.length && change.entryCount > 100
                ? `and more, ${change.entryCount} entries in all`
                : null}
            </>
          ),
        },
      }))}
    />
  );
}

function RecordChange(props: { record: ChangedRecord }) {
  const { kind, name, action, rowCount, fields } = props.record;
  const what = rowCount > 1 ? `${rowCount} rows of ${kind}` : `${kind}${name === null ? '' : ` ${name}`}`;
  const sentence = `${what.charAt(0).toUpperCase()}${what.slice(1)} ${actions[action]}`;
  if (fields.length === 0) return <p>{sentence}.</p>;
  return (
    <details className="record-change" open={action === 'update'}>
      <summary>{sentence}</summary>
      <ul>
        {fields.map(({ pointer, label, from, to }) => (
          <li key={pointer}>
            {label}: {from === null ? to : `${from} → ${to ?? 'nothing'}`}
          </li>
        ))}
      </ul>
    </details>
  );
}
