import { useSuspenseQueries, useSuspenseQuery } from '@tanstack/react-query';
import { Link, useLocation } from '@tanstack/react-router';
import type { TrialWithSmelts } from '../../../api/schemas/test-smelt.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import {
  balancesQuery,
  newestTrialsQuery,
  testSmeltQuery,
  treatmentsQuery,
  trialQuery,
  trialsOfLotsQuery,
} from '../../lib/bench-queries.ts';
import { useOwner } from '../../lib/owner.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { editableText } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { useLots, type LotsAtHand } from '../../lib/use-lots.ts';
import { Page } from '../../parts/page.tsx';
import { emptySmeltDraft, isNew, sameBalance, smeltDraftOf } from './smelt-draft.ts';
import type { SmeltDraft } from './smelt-draft.ts';
import { SmeltForm } from './smelt-form.tsx';
import { nextSample } from './trial-fields.tsx';

/** The test that was entered last: its balances, lead and crucible are likely to be used again. */
function lastTest(trials: readonly TrialWithSmelts[]) {
  return trials
    .flatMap((trial) => trial.smelts)
    .toSorted((a, b) => a.smeltedOn.localeCompare(b.smeltedOn) || a.sample.localeCompare(b.sample))
    .at(-1);
}

/** The lot and trial that an address asks for, with what the trial says of its next test. */
function startOf(
  asked: { lot: string; trial: string },
  known: {
    from: LotsAtHand;
    trials: readonly TrialWithSmelts[];
    treatments: readonly Treatment[];
  },
): Partial<SmeltDraft> {
  const named = known.trials.find((trial) => trial.id === asked.trial);
  const { lots } = known.from;
  const onlyLot = lots.length === 1 ? lots[0]?.id : undefined;
  const lotId = named?.lotId ?? lots.find((lot) => lot.id === asked.lot)?.id ?? onlyLot ?? '';
  const ofLot = known.trials.filter((trial) => trial.lotId === lotId);
  const trial = named ?? (ofLot.length === 1 ? ofLot[0] : undefined);
  const makesTrial = lotId !== '' && ofLot.length === 0;
  const treatment = known.treatments.find((one) => one.id === trial?.treatmentId);
  return {
    lotId,
    trialId: trial?.id ?? (makesTrial ? isNew : ''),
    sample: trial !== undefined || makesTrial ? nextSample(trial) : '',
    roasted: treatment?.roast ?? false,
  };
}

export function NewTestSmeltPage() {
  const wanted = { lot: useAsked('lot'), trial: useAsked('trial') };
  const [newest, named, treatments, balances] = useSuspenseQueries({
    queries: [newestTrialsQuery, trialQuery(wanted.trial), treatmentsQuery, balancesQuery],
  });
  const from = useLots([wanted.lot, named.data?.lotId ?? '']);
  const { lots } = from;
  const lotId =
    named.data?.lotId ??
    lots.find(({ id }) => id === wanted.lot)?.id ??
    (lots.length === 1 ? lots[0]?.id : undefined);
  const { data: trials } = useSuspenseQuery(trialsOfLotsQuery(lotId === undefined ? [] : [lotId]));
  const owner = useOwner();
  const last = lastTest(newest.data);
  const noBalance = balances.data.length === 0;
  const onlyBalance = balances.data.length === 1 ? balances.data[0]?.id : undefined;
  const name = ['test-smelt/new', wanted.trial === '' ? wanted.lot : wanted.trial].join('/');
  return (
    <Page title="New test smelt">
      <SmeltForm
        key={name}
        name={name}
        initial={emptySmeltDraft({
          ...startOf(wanted, { from, trials, treatments: treatments.data }),
          smeltedOn: todayHere(),
          sampleBalanceId: last?.sampleBalanceId ?? onlyBalance ?? (noBalance ? isNew : ''),
          beadBalanceId: last?.beadBalanceId ?? onlyBalance ?? (noBalance ? sameBalance : ''),
          blankMgPerLeadG: editableText(last?.blankMgPerLeadG, owner),
          blankStandardUncertaintyMgPerLeadG: editableText(last?.blankStandardUncertaintyMgPerLeadG, owner),
          crucibleVolumeMl: editableText(last?.crucibleVolumeMl, owner),
        })}
        record={null}
        first={null}
      />
    </Page>
  );
}

export function EditTestSmeltPage() {
  const smeltId = useRecordId('smeltId');
  const first = useLocation({ select: (location) => (location.search as Record<string, unknown>)['to'] });
  const { data: record } = useSuspenseQuery(testSmeltQuery(smeltId));
  const { data: trial } = useSuspenseQuery(trialQuery(record.trialId));
  const owner = useOwner();
  return (
    <Page title={`Test ${record.sample}, ${trial?.name ?? ''}`}>
      <SmeltForm
        // A record that moved on elsewhere is another start: the form begins again, with what was typed as a draft.
        key={`${record.id} ${record.version}`}
        name={`test-smelt/${record.id}`}
        initial={smeltDraftOf(record, trial?.lotId ?? '', owner)}
        record={record}
        first={typeof first === 'string' ? first : null}
      />
      <p>
        <Link to="/test-smelts/$smeltId" params={{ smeltId }}>
          Back to the test smelt
        </Link>
      </p>
    </Page>
  );
}
