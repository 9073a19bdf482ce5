import { useMemo } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { lotsLeftQuery } from '../../lib/production-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { treatmentCautions } from '../../lib/treatment-cautions.ts';
import { Cautions } from '../../parts/cautions.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { costText, CostView } from './cost-view.tsx';
import { liveCost } from './live-cost.ts';
import { RecipeOnLot } from './recipe-on-lot.tsx';
import { treatmentFromDraft } from './treatment-draft.ts';
import type { TreatmentDraft } from './treatment-draft.ts';
import { TreatmentFields } from './treatment-fields.tsx';

/** The form of a treatment with its cost as it is typed, and the cautions that its recipe brings. */
export function TreatmentForm(props: {
  name: string;
  initial: TreatmentDraft;
  supplies: readonly Supply[];
  saveLabel: string;
  save: (fields: Omit<Treatment, 'id' | 'version'>) => Promise<Treatment>;
}) {
  const { name, initial, supplies, saveLabel, save } = props;
  const { data: lotsLeft } = useSuspenseQuery(lotsLeftQuery(''));
  const owner = useOwner();
  const format = useFormat();
  const draft = useDraft(name, initial);
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const { form } = draft;
  const today = todayHere();
  const { cost, unread } = useMemo(
    () => liveCost(form.value, supplies, { owner, on: today }),
    [form.value, supplies, owner, today],
  );
  const costs = cost === null ? null : costText(cost, owner.currency, format);
  const arsenical = lotsLeft.rows.filter((lot) =>
    lot.minerals.some(({ mineral }) => mineral === 'arsenopyrite'),
  );
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /treatments"
        draft={draft}
        saveLabel={saveLabel}
        onSave={async () => {
          await save(treatmentFromDraft(form.value, owner));
          draft.saved();
          await booksChanged();
          await navigate({ to: '/treatments' });
        }}
        buttons={<Link to="/treatments">All treatments</Link>}
      >
        <TreatmentFields form={form} supplies={supplies} />
        <p role="status">{costs === null ? '' : `As typed, a kg of dry concentrate costs ${costs}.`}</p>
      </Form>
      <RecipeOnLot draft={form.value} supplies={supplies} />
      <CostView cost={cost} unread={unread} />
      {form.value.roast && arsenical.length > 0 ? (
        <Notice level="caution">
          {arsenical.length === 1 ? 'Lot' : 'Lots'} {arsenical.map(({ code }) => code).join(', ')}{' '}
          {arsenical.length === 1 ? 'holds' : 'hold'} arsenopyrite. Roasting drives its arsenic off as arsenic
          trioxide, a deadly poison: do not roast arsenical material without professional control.
        </Notice>
      ) : null}
      <Cautions cautions={treatmentCautions([form.value], supplies, [])} />
    </>
  );
}
