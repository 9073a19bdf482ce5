import { useState } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { compareManyTrials } from '../../../api/calc/assay/compare-many-trials.ts';
import { compareTrials } from '../../../api/calc/assay/compare-trials.ts';
import { methodInWords } from '../../../api/calc/assay/comparison-sentence.ts';
import { poolReplicateSpread } from '../../../api/calc/assay/replicate-spread.ts';
import type { AssayedMetal, TrialResult } from '../../../api/calc/assay/trial.ts';
import type { WorkedTrial } from '../../../api/calc/facts/lot-evidence.ts';
import { newestTestedLotsQuery } from '../../lib/bench-queries.ts';
import { gradeUnitOf } from '../../lib/grade-unit.ts';
import { useOwner } from '../../lib/owner.ts';
import { useWorkedTrials } from '../../lib/use-worked-trials.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { FindingList } from '../../parts/finding-list.tsx';

const metalChoices: { value: AssayedMetal; label: string }[] = [
  { value: 'gold', label: 'Gold' },
  { value: 'silver', label: 'Silver' },
  { value: 'goldPlusSilver', label: 'Gold and silver together' },
];

type Tested = WorkedTrial & { result: TrialResult };
const isTested = (trial: WorkedTrial): trial is Tested => trial.result !== null;

/** Any two trials of a lot held against each other: what differs, how sure that is, and what would settle it. */
export function CompareTrials(props: { trials: readonly WorkedTrial[] }) {
  const tested = props.trials.filter(isTested);
  const { data: newestTested } = useSuspenseQuery(newestTestedLotsQuery);
  const everyTrial = useWorkedTrials(newestTested);
  const owner = useOwner();
  const [metal, setMetal] = useState<AssayedMetal>('gold');
  const [firstId, setFirst] = useState('');
  const [secondId, setSecond] = useState('');
  const first = tested.find((trial) => trial.id === firstId) ?? tested[0];
  const others = tested.filter((trial) => trial !== first);
  const second = others.find((trial) => trial.id === secondId) ?? others[0];
  if (first === undefined || second === undefined)
    return (
      <p>
        With tests in two trials, the two can be compared here. One trial alone says nothing of another
        treatment.
      </p>
    );
  const pooled = poolReplicateSpread({
    trials: everyTrial.flatMap(({ worked }) =>
      worked.result === null || worked.id === first.id || worked.id === second.id ? [] : [worked.result],
    ),
    metal,
  });
  const comparison = compareTrials({
    a: first.result,
    b: second.result,
    metal,
    pooledReplicateRelativeSd: pooled,
    names: { a: first.name, b: second.name },
    gradeUnit: gradeUnitOf(owner),
  });
  const among =
    tested.length > 2 ? compareManyTrials({ trials: tested.map(({ result }) => result), metal }) : null;
  const choices = (trials: readonly Tested[]) => trials.map(({ id, name }) => ({ value: id, label: name }));
  return (
    <>
      <Fieldset legend="Compare two trials">
        <ChoiceField label="Metal" value={metal} onChange={setMetal} choices={metalChoices} />
        <ChoiceField label="This trial" value={first.id} onChange={setFirst} choices={choices(tested)} />
        <ChoiceField label="With this one" value={second.id} onChange={setSecond} choices={choices(others)} />
      </Fieldset>
      <div role="status">
        {comparison === null ? (
          <p>One of the two trials has no result for this metal, so there is nothing to compare.</p>
        ) : (
          <>
            <p>
              <strong>{comparison.sentence}</strong>
            </p>
            <p>{methodInWords(comparison.method)}</p>
            <FindingList label="About this comparison" findings={comparison.findings} />
          </>
        )}
        {among === null ? null : <p>{among.sentence}</p>}
      </div>
    </>
  );
}
