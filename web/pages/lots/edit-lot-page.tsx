import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import { lotQuery, seasonsQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { todayHere } from '../../lib/today.ts';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Form } from '../../parts/form.tsx';
import { Page } from '../../parts/page.tsx';
import { emptyLotDraft, lotDraftOf, lotFromDraft } from './lot-draft.ts';
import type { LotDraft } from './lot-draft.ts';
import { LotFields } from './lot-form.tsx';

/** The season that a day falls in, else the newest. */
function seasonOf(seasons: readonly Season[], day: string): Season | undefined {
  return seasons.find((one) => one.startsOn <= day && day <= one.endsOn) ?? seasons[0];
}

export function NewLotPage() {
  const { data: seasons } = useSuspenseQuery(seasonsQuery);
  const today = todayHere();
  const season = seasonOf(seasons, today);
  const inSeason = season !== undefined && season.startsOn <= today && today <= season.endsOn;
  return (
    <Page title="New lot">
      <LotForm
        name="lot/new"
        initial={emptyLotDraft(season?.id ?? '', inSeason ? today : '')}
        seasons={seasons}
        saveLabel="Enter this lot"
        save={(body) => send(api.lots.$post({ json: body }))}
      />
    </Page>
  );
}

export function EditLotPage() {
  const lotId = useRecordId('lotId');
  const { data: seasons } = useSuspenseQuery(seasonsQuery);
  const { data: lot } = useSuspenseQuery(lotQuery(lotId));
  const owner = useOwner();
  return (
    <Page title={`Change lot ${lot.code}`}>
      <LotForm
        // A record that moved on elsewhere is another start: the form begins again, with what was typed as a draft.
        key={`${lot.id} ${lot.version}`}
        name={`lot/${lot.id}`}
        initial={lotDraftOf(lot, owner)}
        seasons={seasons}
        saveLabel="Save the lot"
        save={(body) =>
          send(api.lots[':id'].$put({ param: { id: lot.id }, json: { ...body, version: lot.version } }))
        }
      />
      <p>
        <Link to="/lots/$lotId" params={{ lotId }}>
          Back to lot {lot.code}
        </Link>
      </p>
    </Page>
  );
}

function LotForm(props: {
  name: string;
  initial: LotDraft;
  seasons: readonly Season[];
  saveLabel: string;
  save: (body: ReturnType<typeof lotFromDraft>) => Promise<Lot>;
}) {
  const { name, initial, seasons, saveLabel, save } = props;
  const owner = useOwner();
  const draft = useDraft(name, initial);
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        saveLabel={saveLabel}
        onSave={async () => {
          const lot = await save(lotFromDraft(draft.form.value, owner));
          draft.saved();
          await booksChanged();
          await navigate({ to: '/lots/$lotId', params: { lotId: lot.id } });
        }}
      >
        <LotFields form={draft.form} seasons={seasons} />
      </Form>
    </>
  );
}
