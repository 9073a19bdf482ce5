import type { ReactNode } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useLocation, useNavigate } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import { useLots } from '../../lib/use-lots.ts';
import { seasonOn } from '../../lib/use-season.ts';
import { lotQuery, seasonsQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { useDraft } from '../../lib/drafts.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { shownText } from '../../lib/quantities.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { todayHere } from '../../lib/today.ts';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Form } from '../../parts/form.tsx';
import { Page } from '../../parts/page.tsx';
import { emptyLotDraft, lotDraftOf, lotFromDraft, newLotFromDraft } from './lot-draft.ts';
import type { LotDraft, NewLotDraft } from './lot-draft.ts';
import { LotFields } from './lot-form.tsx';
import { NewLotParts } from './new-lot-parts.tsx';
import { readParts } from './parts-address.ts';

export function NewLotPage() {
  const { data: seasons } = useSuspenseQuery(seasonsQuery);
  const today = todayHere();
  const season = seasonOn(seasons, today);
  const inSeason = season !== undefined && season.startsOn <= today && today <= season.endsOn;
  const owner = useOwner();
  const format = useFormat();
  const named = useLocation({ select: (location) => (location.search as Record<string, unknown>)['from'] });
  const from = typeof named === 'string' ? named : '';
  const { lots } = useLots(readParts(from).map(({ lotId }) => lotId));
  const parts = readParts(from).flatMap(({ lotId, dryMassKg }) => {
    const lot = lots.find(({ id }) => id === lotId);
    return lot === undefined ? [] : [{ lot, dryMassKg }];
  });
  const codes = parts.map(({ lot }) => lot.code);
  return (
    <Page title="New lot">
      {parts.length === 0 ? null : (
        <p>
          Made from{' '}
          {parts
            .map(
              ({ lot, dryMassKg }) => `${format.quantity('lotMassKg', Number(dryMassKg))} dry of ${lot.code}`,
            )
            .join(' and ')}
          , which stand under <em>Made from</em> below. Weigh the blend, and dry a sample of it, as for any
          lot; where its minerals are left out, those of its parts count by mass.
        </p>
      )}
      <LotForm<NewLotDraft>
        // A blend begins a draft of its own, so that it never meets half a lot that was typed before.
        key={parts.length === 0 ? 'new' : from}
        name={parts.length === 0 ? 'lot/new' : `lot/new ${from}`}
        initial={{
          ...emptyLotDraft(season?.id ?? '', inSeason ? today : ''),
          description: parts.length === 0 ? '' : `Blend of ${codes.join(' and ')}`,
          parts: parts.map(({ lot, dryMassKg }) => ({
            sourceId: `lot:${lot.id}`,
            dryMassKg: shownText('lotMassKg', dryMassKg, owner),
          })),
        }}
        seasons={seasons}
        saveLabel="Enter this lot"
        save={(draft, owner) => send(api.lots.$post({ json: newLotFromDraft(draft, owner) }))}
        more={(form) => <NewLotParts parts={at(form, 'parts')} madeOn={form.value.madeOn} />}
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
        save={(draft) =>
          send(
            api.lots[':id'].$put({
              param: { id: lot.id },
              json: { ...lotFromDraft(draft, owner), version: lot.version },
            }),
          )
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

/** The fields that every lot has, of a draft with more. */
function lotOf<Draft extends LotDraft>(form: Binding<Draft>): Binding<LotDraft> {
  const update: Binding<LotDraft>['update'] = (change) =>
    form.update((whole) => ({ ...whole, ...change(whole) }));
  return { pointer: form.pointer, value: form.value, update, onChange: (next) => update(() => next) };
}

function LotForm<Draft extends LotDraft>(props: {
  name: string;
  initial: Draft;
  seasons: readonly Season[];
  saveLabel: string;
  save: (draft: Draft, owner: OwnerChoices) => Promise<Lot>;
  /** Further fields, of a new lot. */
  more?: (form: Binding<Draft>) => ReactNode;
}) {
  const { name, initial, seasons, saveLabel, save, more } = props;
  const owner = useOwner();
  const draft = useDraft(name, initial);
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /lots"
        draft={draft}
        saveLabel={saveLabel}
        onSave={async () => {
          const lot = await save(draft.form.value, owner);
          draft.saved();
          await booksChanged();
          await navigate({ to: '/lots/$lotId', params: { lotId: lot.id } });
        }}
      >
        <LotFields form={lotOf(draft.form)} seasons={seasons} />
        {more === undefined ? null : more(draft.form)}
      </Form>
    </>
  );
}
