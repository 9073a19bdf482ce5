import { useState } from 'react';
import { queryOptions, useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { AccountCode } from '../../../api/schemas/account-code.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at, items } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { TextField } from '../../parts/text-field.tsx';

const accountCodesQuery = queryOptions({
  queryKey: ['account-codes'],
  queryFn: () => send(api['account-codes'].$get()),
});

/** The codes of the accountant's chart, for the journal. */
export function AccountsPage() {
  const { data: codes } = useSuspenseQuery(accountCodesQuery);
  const groups = [...new Set(codes.map(({ group }) => group))];
  const own = codes.filter(({ version }) => version > 0).length;
  return (
    <Page title="Account codes">
      <Lead>
        {own === 0
          ? 'The codes are the suggested ones: they belong to no country’s chart. Put in those of your accountant; several kinds may share one code.'
          : `${own} of ${codes.length} kinds of account have a code of your own; the others have the suggested one. Several kinds may share one code.`}
      </Lead>
      <p className="muted">
        Which account is right is for your accountant to say: local law goes before anything suggested here.
      </p>
      <DataTable
        caption="Kinds of account"
        narrow="stack"
        columns={[
          { key: 'code', label: 'Code', align: 'start' },
          { key: 'name', label: 'Name', align: 'start' },
          { key: 'meaning', label: 'What is booked on it', align: 'start' },
        ]}
        rows={groups.flatMap((group) => [
          { key: group, style: 'section' as const, cells: { code: group } },
          ...codes
            .filter((one) => one.group === group)
            .map(({ kind, code, name, meaning }) => ({ key: kind, cells: { code, name, meaning } })),
        ])}
      />
      <h2>Change codes and names</h2>
      <CodesForm codes={codes} />
      <p>
        <Link to="/settings">Settings</Link>
      </p>
    </Page>
  );
}

function CodesForm(props: { codes: readonly AccountCode[] }) {
  const [kept, setKept] = useState(props.codes);
  const booksChanged = useBooksChanged();
  const draft = useDraft(
    'account-codes',
    kept.map(({ kind, code, name }) => ({ kind, code, name })),
  );
  const { form } = draft;
  const groups = [...new Set(kept.map(({ group }) => group))];
  const rows = items(form);
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /account-codes"
        label="Account codes"
        saveLabel="Save the codes"
        onSave={async () => {
          const codes = form.value.flatMap(({ kind, code, name }) => {
            const before = kept.find((one) => one.kind === kind);
            return before === undefined || (before.code === code && before.name === name)
              ? []
              : [{ kind, code, name, version: before.version }];
          });
          if (codes.length > 0) setKept(await send(api['account-codes'].$put({ json: { codes } })));
          draft.saved();
          await booksChanged();
        }}
      >
        {groups.map((group) => (
          <details key={group} className="record-form">
            <summary>{group}</summary>
            {rows.map((row) => {
              const account = kept.find(({ kind }) => kind === row.value.kind);
              return account === undefined || account.group !== group ? null : (
                <Fieldset key={account.kind} legend={account.meaning.replace(/\.$/, '')}>
                  <TextField label="Name" required maxLength={120} {...at(row, 'name')} />
                  <TextField label="Code" required maxLength={40} {...at(row, 'code')} />
                </Fieldset>
              );
            })}
          </details>
        ))}
      </Form>
    </>
  );
}
