import { useState } from 'react';
import { queryOptions, useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { api, ApiProblem, send } from '../../api.ts';
import type { Problem } from '../../api.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Notice } from '../../parts/notice.tsx';
import { ProblemNotice } from '../../parts/problem-notice.tsx';

const backupsQuery = queryOptions({
  queryKey: ['backups'],
  queryFn: () => send(api.backups.$get()),
});

/** When the books were last copied, and a button to do it now. */
export function Backups() {
  const { data: status } = useSuspenseQuery(backupsQuery);
  const format = useFormat();
  const client = useQueryClient();
  const [working, setWorking] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [last] = status.backups;
  const size = (bytes: number): string =>
    bytes < 1_000_000 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;

  async function make(): Promise<void> {
    if (working) return;
    setWorking(true);
    setProblem(null);
    try {
      await send(api.backups.$post());
    } catch (error) {
      if (!(error instanceof ApiProblem)) throw error;
      setProblem(error.problem);
    } finally {
      setWorking(false);
      await client.invalidateQueries({ queryKey: backupsQuery.queryKey });
    }
  }

  if (status.directory === null)
    return (
      <>
        <h2>Backups</h2>
        <Notice level="warning">
          No backups are kept: start Poursheet with --backups and a directory, or back the books up yourself.
        </Notice>
      </>
    );
  return (
    <>
      <h2>Backups</h2>
      <p>
        {last === undefined
          ? 'No backup has been made yet; the first comes by itself within minutes of the start.'
          : `The last good backup is of ${format.dateTime(new Date(last.madeAt))}, ${size(last.sizeBytes)}. One is made every day that Poursheet runs.`}{' '}
        They are kept in <code>{status.directory}</code>, on the same computer: copy one to another place from
        time to time.
      </p>
      {status.isOverdue ? (
        <Notice level="warning">The last good backup is more than three days old.</Notice>
      ) : null}
      {status.lastFailure === null ? null : (
        <Notice level="warning">
          The last try, {format.dateTime(new Date(status.lastFailure.at))}, failed:{' '}
          {status.lastFailure.reason}
        </Notice>
      )}
      {problem === null ? null : <ProblemNotice problem={problem} />}
      <div className="actions">
        <button type="button" aria-disabled={working} onClick={() => void make()}>
          {working ? 'Backing up…' : 'Back up now'}
        </button>
      </div>
      {last === undefined ? null : (
        <DataTable
          caption="Backups kept"
          columns={[
            { key: 'made', label: 'Made', align: 'start' },
            { key: 'size', label: 'Size', align: 'end' },
            { key: 'file', label: 'File', align: 'start' },
          ]}
          rows={status.backups.map(({ file, madeAt, sizeBytes }) => ({
            key: file,
            cells: {
              made: format.dateTime(new Date(madeAt)),
              size: size(sizeBytes),
              file: (
                <a href={`/api/backups/${file}`} download>
                  Download
                  <span className="visually-hidden"> the backup of {format.dateTime(new Date(madeAt))}</span>
                </a>
              ),
            },
          }))}
        />
      )}
    </>
  );
}
