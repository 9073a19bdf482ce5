import type { ReactElement } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useParams } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { suppliesQuery, treatmentsQuery } from '../../lib/bench-queries.ts';
import { useOwner } from '../../lib/owner.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { Lead } from '../../parts/lead.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Page } from '../../parts/page.tsx';
import { treatmentFromAdvice } from './advised-treatment.ts';
import { startingPoints, treatmentFrom } from './starting-points.ts';
import { StartingPoints } from './starting-points-list.tsx';
import { emptyTreatmentDraft, treatmentDraftOf } from './treatment-draft.ts';
import { TreatmentForm } from './treatment-form.tsx';

/** A new treatment, from a common recipe or from nothing. */
export function NewTreatmentPage(): ReactElement {
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const owner = useOwner();
  const asked = useAsked('from');
  const advised = { way: useAsked('way'), lot: useAsked('lot'), recipe: useAsked('recipe') };
  const point = startingPoints.find(({ key }) => key === asked);
  const start = point === undefined ? treatmentFromAdvice(advised, supplies) : treatmentFrom(point, supplies);
  const from = point?.key ?? (start === null ? '' : Object.values(advised).join(' '));
  return (
    <Page title="New treatment">
      <Lead>
        A treatment is a way of working up a lot: what goes into the crucible, how long it takes, and what you
        expect to get out.
      </Lead>
      {supplies.length === 0 ? (
        <Notice level="note">
          A recipe is made of supplies, and none are entered yet.{' '}
          <Link to="/prices">Enter the usual ones</Link> first.
        </Notice>
      ) : null}
      {start === null ? (
        <StartingPoints />
      ) : (
        <Notice level="note">
          {point === undefined
            ? 'The recipe is the proposed one; hours, lead return and recoveries are common practice, and only a place to begin'
            : 'These figures are common practice for a pyrite concentrate, and only a place to begin'}
          : put your own in their place, and try the recipe on a small sample first.
          {start.missing.length === 0
            ? ''
            : ` Not among your supplies, and therefore left out: ${start.missing.join(', ')}.`}
        </Notice>
      )}
      <TreatmentForm
        key={from}
        name={`treatment/new ${from}`}
        initial={start === null ? emptyTreatmentDraft : treatmentDraftOf(start.treatment, owner)}
        supplies={supplies}
        saveLabel="Enter this treatment"
        save={(fields) => send(api.treatments.$post({ json: fields }))}
      />
    </Page>
  );
}

/** One treatment, to be read and changed. */
export function TreatmentPage(): ReactElement {
  const { treatmentId } = useParams({ from: '/treatments/$treatmentId' });
  const { data: treatments } = useSuspenseQuery(treatmentsQuery);
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const owner = useOwner();
  const treatment = treatments.find(({ id }) => id === treatmentId);
  if (treatment === undefined) {
    return (
      <Page title="Treatment not found">
        <p>
          There is no such treatment. <Link to="/treatments">All treatments</Link>
        </p>
      </Page>
    );
  }
  return (
    <Page title={treatment.name}>
      {treatment.description === '' ? null : <Lead>{treatment.description}</Lead>}
      <p>
        A change counts from now on. Batches that are planned keep the forecast that was made when they were
        planned.
      </p>
      <TreatmentForm
        key={`${treatment.id} ${treatment.version}`}
        name={`treatment/${treatment.id}`}
        initial={treatmentDraftOf(treatment, owner)}
        supplies={supplies}
        saveLabel="Save the treatment"
        save={(fields) =>
          send(
            api.treatments[':id'].$put({
              param: { id: treatment.id },
              json: { ...fields, version: treatment.version },
            }),
          )
        }
      />
    </Page>
  );
}
