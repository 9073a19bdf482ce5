import { keepPreviousData, useQuery, useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { api, ifMatch, send } from '../../api.ts';
import type { ProductionDay } from '../../../api/schemas/production-day.ts';
import { seasonsQuery, suppliesQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { useDraft } from '../../lib/drafts.ts';
import { millQuery } from '../../lib/mill.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { dayQuery, daysUpToQuery } from '../../lib/production-queries.ts';
import { seasonOn } from '../../lib/use-season.ts';
import { todayHere } from '../../lib/today.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Facts } from '../../parts/facts.tsx';
import { Form } from '../../parts/form.tsx';
import { Page } from '../../parts/page.tsx';
import { dayDraftOf, dayFromDraft, emptyDayDraft, labourDraftOf } from './day-draft.ts';
import type { DayDraft } from './day-draft.ts';
import { DayFields } from './day-form.tsx';

/** The newest day before another; the days come newest first. */
const before = (days: readonly ProductionDay[], day: string): ProductionDay | undefined =>
  days.find((one) => day === '' || one.day < day);

export function NewDayPage() {
  const { data: mill } = useSuspenseQuery(millQuery);
  const { data: seasons } = useSuspenseQuery(seasonsQuery);
  const today = todayHere();
  const season = seasonOn(seasons, today);
  const { data: days } = useSuspenseQuery(daysUpToQuery(''));
  const owner = useOwner();
  const known = days.find(({ day }) => day === today);
  const inSeason = season !== undefined && season.startsOn <= today && today <= season.endsOn;
  const day = inSeason && known === undefined ? today : '';
  return (
    <Page title="New day">
      {known === undefined ? null : (
        <p>
          Today is entered already:{' '}
          <Link to="/days/$dayId" params={{ dayId: known.id }}>
            look at it
          </Link>
          .
        </p>
      )}
      <DayForm
        name="day/new"
        initial={emptyDayDraft(mill, { day, before: before(days, day), owner })}
        saveLabel="Enter this day"
        save={(body) => send(api.days.$post({ json: body }))}
      />
    </Page>
  );
}

export function DayPage() {
  const dayId = useRecordId('dayId');
  const { data: day } = useSuspenseQuery(dayQuery(dayId));
  const owner = useOwner();
  const format = useFormat();
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const mass = (kg: string): string => format.quantity('lotMassKg', kg);
  return (
    <Page title={`Day ${format.date(day.day)}`}>
      <Facts
        facts={[
          { label: 'Feed, dry', value: day.feedDryT === null ? 'not counted' : `${day.feedDryT} t` },
          {
            label: 'Concentrate, dry',
            value: day.concentrateDryKg === null ? 'not weighed' : mass(day.concentrateDryKg),
          },
          {
            label: 'Taken into lots',
            value: (
              <>
                {mass(day.takenKg)}{' '}
                <Link to="/lineage" search={{ of: `day:${day.id}` }}>
                  what became of it
                </Link>
              </>
            ),
          },
          { label: 'Left, dry', value: mass(day.leftKg) },
        ]}
      />
      <DayForm
        key={`${day.id} ${day.version}`}
        name={`day/${day.id}`}
        initial={dayDraftOf(day, owner)}
        saveLabel="Save the day"
        save={(body) =>
          send(api.days[':id'].$put({ param: { id: day.id }, json: { ...body, version: day.version } }))
        }
      />
      <div className="actions">
        <ConfirmButton
          sends="DELETE /days/:id"
          label="Remove this day"
          question={`The entry of ${format.date(day.day)} will be gone. A day that lots were made from cannot be removed.`}
          confirmLabel="Remove the day"
          onConfirm={async () => {
            await send(api.days[':id'].$delete({ param: { id: day.id } }, ifMatch(day.version)));
            await navigate({ to: '/days' });
            await booksChanged();
          }}
        />
      </div>
    </Page>
  );
}

function DayForm(props: {
  name: string;
  initial: DayDraft;
  saveLabel: string;
  save: (body: ReturnType<typeof dayFromDraft>) => Promise<ProductionDay>;
}) {
  const { name, initial, saveLabel, save } = props;
  const { data: mill } = useSuspenseQuery(millQuery);
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const owner = useOwner();
  const draft = useDraft(name, initial);
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const { form } = draft;
  const { data: days = [] } = useQuery({
    ...daysUpToQuery(form.value.day),
    placeholderData: keepPreviousData,
  });
  const last = before(
    days.filter(({ labour }) => labour.length > 0),
    form.value.day,
  );
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /days"
        draft={draft}
        saveLabel={saveLabel}
        onSave={async () => {
          const saved = await save(dayFromDraft(form.value, owner));
          draft.saved();
          await booksChanged();
          await navigate({ to: '/days', search: { month: saved.day.slice(0, 7) } });
        }}
      >
        <DayFields
          form={form}
          mill={mill}
          supplies={supplies}
          samePeople={
            last === undefined
              ? null
              : {
                  day: last.day,
                  fill: () => form.update((typed) => ({ ...typed, labour: labourDraftOf(last, owner) })),
                }
          }
        />
      </Form>
    </>
  );
}
