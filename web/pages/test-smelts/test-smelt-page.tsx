import { useMemo } from 'react';
import { useSuspenseQueries, useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { api, ifMatch, send } from '../../api.ts';
import type { TestSmeltResult } from '../../../api/calc/assay/test-smelt.ts';
import { closeSmelt } from '../../../api/calc/facts/close-smelt.ts';
import { smeltFacts } from '../../../api/calc/facts/smelt-from-record.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { TestSmeltRecord, TrialWithSmelts } from '../../../api/schemas/test-smelt.ts';
import {
  balancesQuery,
  cupellationQuery,
  lotQuery,
  suppliesQuery,
  testSmeltQuery,
  trialQuery,
  trialsOfLotsQuery,
  useBooksChanged,
} from '../../lib/bench-queries.ts';
import { gradeUnitOf } from '../../lib/grade-unit.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import type { Formatter } from '../../lib/format.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { percentMeasured } from '../../lib/worked-tests.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { Facts } from '../../parts/facts.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Page } from '../../parts/page.tsx';
import { ChangesLink } from '../audit/changes-link.tsx';
import { workRecord } from './live-smelt.ts';
import { MetalClosures } from './metal-closures.tsx';
import { SetAside } from './set-aside.tsx';
import { nextStep } from './steps.tsx';
import { SplitByLab } from './split-by-lab.tsx';
import { BudgetTables } from './uncertainty-budget.tsx';
import { WeighingTable } from './weighing-table.tsx';

/** One test smelt: what it recovered and how sure that is, what it says, and every weighing behind it. */
export function TestSmeltPage() {
  const smeltId = useRecordId('smeltId');
  const { data: record } = useSuspenseQuery(testSmeltQuery(smeltId));
  const { data: trial } = useSuspenseQuery(trialQuery(record.trialId));
  if (trial === null) throw new Error('The trial of this test smelt is not in the books.');
  return <TestSmeltOfTrial record={record} trial={trial} />;
}

function TestSmeltOfTrial({ record, trial }: { record: TestSmeltRecord; trial: TrialWithSmelts }) {
  const smeltId = record.id;
  const [{ data: lot }, trials, balances, cupellation, supplies] = useSuspenseQueries({
    queries: [
      lotQuery(trial.lotId),
      trialsOfLotsQuery([trial.lotId]),
      balancesQuery,
      cupellationQuery,
      suppliesQuery,
    ],
  });
  const facts = useMemo(
    () =>
      smeltFacts(
        { lot, balances: balances.data, cupellation: cupellation.data, supplies: supplies.data },
        trials.data,
      ),
    [lot, trials.data, balances.data, cupellation.data, supplies.data],
  );
  const worked = useMemo(() => workRecord(record, facts), [record, facts]);
  const format = useFormat();
  const owner = useOwner();
  const { result, findings } = worked;
  const next = nextStep(record);
  return (
    <Page title={`Test ${record.sample}, ${trial.name}`}>
      <p>
        Lot{' '}
        <Link to="/lots/$lotId" params={{ lotId: lot.id }}>
          {lot.code}
        </Link>
        , smelted on {format.date(record.smeltedOn)}.
      </p>
      <Lead>{sentenceOf(result, format)}</Lead>
      {record.setAsideReason === null ? null : (
        <Notice level="warning">Set aside, so it does not count: {record.setAsideReason}</Notice>
      )}
      <p className="actions">
        <IfOpen change="POST /test-smelts">
          <Link
            className="button"
            to="/test-smelts/$smeltId/edit"
            params={{ smeltId }}
            search={next === null ? {} : { to: next.step }}
          >
            {next === null
              ? 'Correct it'
              : `Weigh in ${next.waitsFor === 'parting' ? 'the parted gold' : next.waitsFor}`}
          </Link>
        </IfOpen>
        <IfOpen change="POST /test-smelts">
          <Link className="button" to="/test-smelts/new" search={{ trial: trial.id }}>
            Next test of this trial
          </Link>
        </IfOpen>
      </p>
      <FindingList label="What this test says" findings={findings} />
      <h2>Result</h2>
      <ResultFacts result={result} roasted={record.roasted} />
      <SplitByLab record={record} facts={facts} />
      <BudgetTables result={result} record={record} balances={balances.data} />
      <MetalClosures closures={closeSmelt(record, facts, result, gradeUnitOf(owner))} />
      <h2>Weighings</h2>
      <WeighingTable record={record} balances={balances.data} supplies={supplies.data} />
      {record.remarks === '' ? null : <p>Remarks: {record.remarks}</p>}
      <h2>Count it or not</h2>
      <SetAside key={`${record.id} ${record.version}`} record={record} />
      <RemoveSmelt record={record} lot={lot} trial={trial} />
      <ChangesLink record={record.id} />
    </Page>
  );
}

function sentenceOf(result: TestSmeltResult, format: Formatter): string {
  const { goldGpt, silverGpt, goldPlusSilverGpt } = result;
  const text = (grade: NonNullable<typeof goldGpt>): string => format.measuredQuantity('gradeGpt', grade);
  if (goldGpt !== null && silverGpt !== null)
    return `It recovered ${text(goldGpt)} of gold and ${text(silverGpt)} of silver, counted on the dry sample as received.`;
  if (goldGpt !== null) return `It recovered ${text(goldGpt)} of gold; silver could not be worked out.`;
  if (goldPlusSilverGpt !== null)
    return `It recovered ${text(goldPlusSilverGpt)} of gold and silver together; the bead is not parted yet.`;
  return 'No grade could be worked out yet; the remarks below say what is missing.';
}

function ResultFacts(props: { result: TestSmeltResult; roasted: boolean }) {
  const { result, roasted } = props;
  const format = useFormat();
  const grade = (measured: TestSmeltResult['goldGpt']): string =>
    measured === null ? 'not worked out' : format.measuredQuantity('gradeGpt', measured);
  const grams = (measured: TestSmeltResult['leadInG']): string =>
    measured === null ? 'not worked out' : format.measured(measured, 'g');
  return (
    <>
      <p className="muted">± is two standard uncertainties, about 95 in 100.</p>
      <Facts
        facts={[
          { label: 'Gold', value: grade(result.goldGpt) },
          { label: 'Silver', value: grade(result.silverGpt) },
          { label: 'Gold and silver', value: grade(result.goldPlusSilverGpt) },
          { label: 'Lead return', value: percentMeasured(result.leadReturnFrac, format) },
          { label: 'Lead that went in', value: grams(result.leadInG) },
          { label: 'Lead not in the button', value: grams(result.leadMissingG) },
          { label: 'Matte fall', value: percentMeasured(result.matteFallFrac, format) },
          { label: 'Slag fall', value: percentMeasured(result.slagFallFrac, format) },
          ...(roasted ? [{ label: 'Roast loss', value: percentMeasured(result.roastLossFrac, format) }] : []),
          {
            label: 'Silver of the lead (blank)',
            value: result.blankMg === null ? 'not known' : format.measured(result.blankMg, 'mg'),
          },
        ]}
      />
    </>
  );
}

function RemoveSmelt(props: { record: TestSmeltRecord; lot: Lot; trial: TrialWithSmelts }) {
  const { record, lot, trial } = props;
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  return (
    <ConfirmButton
      sends="DELETE /test-smelts/:id"
      label="Remove this test smelt"
      question={`Test ${record.sample} of ${trial.name} will be gone with all its weighings. A test that went wrong is better set aside, with the reason.`}
      confirmLabel={`Remove test ${record.sample}`}
      onConfirm={async () => {
        await send(api['test-smelts'][':id'].$delete({ param: { id: record.id } }, ifMatch(record.version)));
        await navigate({ to: '/lots/$lotId', params: { lotId: lot.id } });
        await booksChanged();
      }}
    />
  );
}
