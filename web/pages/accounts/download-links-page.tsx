import { useState } from 'react';
import { useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { DownloadKind, DownloadLink } from '../../../api/schemas/account.ts';
import { api, send } from '../../api.ts';
import { seasonsQuery } from '../../lib/bench-queries.ts';
import { at, bindWhole } from '../../lib/binding.ts';
import { dateTimeText } from '../../lib/format.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { downloadLinksQuery } from './accounts-queries.ts';
import { OnceShown } from './once-shown.tsx';

const kindWords: Record<DownloadKind, string> = {
  'accountant-package': 'The accountant’s files (ZIP of workbook, tables and statements)',
  'accountant-csv': 'The accountant’s table (CSV)',
  'statements-zip': 'All issued statements (ZIP of PDFs)',
};
const wordsOf = (what: string): string => (kindWords as Record<string, string>)[what] ?? what;

function stateWords({ revokedAt, expiresAt }: DownloadLink): string {
  if (revokedAt !== null) return `taken out of use ${dateTimeText(new Date(revokedAt))}`;
  const until = new Date(expiresAt);
  return until < new Date() ? `ended ${dateTimeText(until)}` : `holds until ${dateTimeText(until)}`;
}

/** Links under which one file can be fetched without an account. */
export function DownloadLinksPage() {
  const { data: links } = useSuspenseQuery(downloadLinksQuery);
  const client = useQueryClient();
  const changed = (): Promise<void> => client.invalidateQueries({ queryKey: downloadLinksQuery.queryKey });
  return (
    <Page title="Download links">
      <Lead>
        Whoever has such a link can fetch one file of one season, as it is on that day, and nothing else. It
        ends by itself, and you can take it out of use.
      </Lead>
      <NewLink made={changed} />
      <DataTable
        caption="Links, newest first"
        narrow="stack"
        empty="No link has been made yet."
        columns={[
          { key: 'what', label: 'File', align: 'start' },
          { key: 'season', label: 'Season', align: 'start' },
          { key: 'remarks', label: 'For', align: 'start' },
          { key: 'state', label: 'State', align: 'start' },
          { key: 'uses', label: 'Fetched, times', align: 'end' },
          { key: 'revoke', label: 'Take out of use', align: 'start' },
        ]}
        rows={links.map((link) => ({
          key: link.id,
          cells: {
            what: wordsOf(link.what),
            season: link.seasonName,
            remarks: link.remarks,
            state: stateWords(link),
            uses: String(link.uses),
            revoke:
              link.revokedAt !== null || new Date(link.expiresAt) < new Date() ? (
                'done'
              ) : (
                <ConfirmButton
                  sends="DELETE /download-links/:id"
                  label="Take out of use"
                  question={`The link to ${wordsOf(link.what)} of season ${link.seasonName} opens nothing from then on.`}
                  confirmLabel="Take it out of use"
                  onConfirm={async () => {
                    await send(api['download-links'][':id'].$delete({ param: { id: link.id } }));
                    await changed();
                  }}
                />
              ),
          },
        }))}
      />
      <p>
        For somebody who looks at the books often, an <Link to="/accounts">account</Link> as accountant is
        better.
      </p>
    </Page>
  );
}

interface LinkDraft {
  what: DownloadKind;
  seasonId: string;
  days: '7' | '14' | '30' | '90';
  remarks: string;
}

function NewLink(props: { made: () => Promise<void> }) {
  const { data: seasons } = useSuspenseQuery(seasonsQuery);
  const [draft, setDraft] = useState<LinkDraft>({
    what: 'accountant-package',
    seasonId: seasons[0]?.id ?? '',
    days: '14',
    remarks: '',
  });
  const [address, setAddress] = useState<string | null>(null);
  const form = bindWhole(draft, setDraft);
  return (
    <>
      {address === null ? null : (
        <OnceShown address={address}>
          Send this link to whoever should have the file. It is shown this once.
        </OnceShown>
      )}
      <Form
        sends="POST /download-links"
        label="Make a link"
        saveLabel="Make this link"
        onSave={async () => {
          const json = { ...draft, days: Number(draft.days) };
          const { path } = await send(api['download-links'].$post({ json }));
          setAddress(`${window.location.origin}${path}`);
          await props.made();
        }}
      >
        <Fieldset legend="Link">
          <ChoiceField
            label="File"
            {...at(form, 'what')}
            choices={Object.entries(kindWords).map(([value, label]) => ({
              value: value as DownloadKind,
              label,
            }))}
          />
          <ChoiceField
            label="Season"
            required
            {...at(form, 'seasonId')}
            choices={seasons.map(({ id, name }) => ({ value: id, label: name }))}
          />
          <ChoiceField
            label="Holds for"
            {...at(form, 'days')}
            choices={(['7', '14', '30', '90'] as const).map((value) => ({ value, label: `${value} days` }))}
          />
          <TextField label="For whom" maxLength={200} {...at(form, 'remarks')} />
        </Fieldset>
      </Form>
    </>
  );
}
