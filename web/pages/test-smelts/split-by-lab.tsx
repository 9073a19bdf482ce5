import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { silverToGoldRatioOf } from '../../../api/calc/facts/lab-ratio.ts';
import { smeltFromRecord } from '../../../api/calc/facts/smelt-from-record.ts';
import type { SmeltFacts } from '../../../api/calc/facts/smelt-from-record.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import { useFormat } from '../../lib/owner.ts';

/** An unparted bead split by the laboratory's ratio of silver to gold: a guide, said to be one, never counted. */
export function SplitByLab(props: { record: TestSmeltRecord; facts: SmeltFacts }) {
  const { record, facts } = props;
  const format = useFormat();
  const ratio = silverToGoldRatioOf(facts.lot);
  if (record.beadMg === null || record.partedGoldMg !== null || ratio === null) return null;
  const { smelt } = smeltFromRecord(record, facts);
  const { goldGpt, silverGpt } = workTestSmelt({ ...smelt, silverToGoldRatioFromAssay: ratio });
  if (goldGpt === null || silverGpt === null) return null;
  return (
    <p>
      The bead is not parted. By the laboratory’s ratio of {format.measured(ratio, '')} parts of silver to 1
      of gold, as if the treatment had recovered both alike, it would hold{' '}
      {format.measuredQuantity('gradeGpt', goldGpt)} of gold and{' '}
      {format.measuredQuantity('gradeGpt', silverGpt)} of silver. This is a guide and does not count in any
      mean; parting tells.
    </p>
  );
}
