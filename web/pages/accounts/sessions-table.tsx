import type { AccountSession } from '../../../api/schemas/account.ts';
import { dateTimeText } from '../../lib/format.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';

/** What a browser says of itself, as far as it helps to know one's own again. */
function deviceWords(device: string): string {
  const system = /Android|iPhone|iPad|Windows|Macintosh|CrOS|Linux/.exec(device)?.[0] ?? '';
  const browser = /Firefox|Edg|OPR|Chrome|Safari/.exec(device)?.[0] ?? '';
  const named: Record<string, string> = { Macintosh: 'Mac', CrOS: 'Chromebook', Edg: 'Edge', OPR: 'Opera' };
  const words = [browser, system].filter((word) => word !== '').map((word) => named[word] ?? word);
  return words.length === 0 ? 'a program' : words.join(' on ');
}

/** Where an account is signed in, each with a way to end it. */
export function SessionsTable(props: {
  sessions: readonly AccountSession[];
  end: (sessionId: string) => Promise<unknown>;
}) {
  const { sessions, end } = props;
  return (
    <DataTable
      caption="Signed in at"
      narrow="stack"
      empty="Nowhere at this moment."
      columns={[
        { key: 'device', label: 'Device', align: 'start' },
        { key: 'address', label: 'From', align: 'start' },
        { key: 'started', label: 'Since', align: 'start' },
        { key: 'seen', label: 'Last used', align: 'start' },
        { key: 'end', label: 'Sign out there', align: 'start' },
      ]}
      rows={sessions.map((one) => ({
        key: one.id,
        cells: {
          device: deviceWords(one.device),
          address: one.address,
          started: dateTimeText(new Date(one.startedAt)),
          seen: dateTimeText(new Date(one.lastSeenAt)),
          end: one.isThisOne ? (
            'this one'
          ) : (
            <ConfirmButton
              sends="DELETE /session/sessions/:id"
              label="Sign out"
              question={`Whoever is signed in there (${deviceWords(one.device)}, ${one.address}) must sign in again.`}
              confirmLabel="Sign out there"
              onConfirm={() => end(one.id)}
            />
          ),
        },
      }))}
    />
  );
}
