import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { silverToGoldRatioOf } from '../../../api/calc/facts/lab-ratio.ts';
import { smeltFromRecord } from '../../../api/calc/facts/smelt-from-record.ts';
import type { SmeltFacts } from '../../../api/calc/facts/smelt-from-record.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import { useFormat } from '../../lib/owner.ts';
import { FindingList } from '../../parts/finding-list.tsx';

/** An unparted bead split by the laboratory's ratio of silver to gold: a guide, said to be one: the inference takes the bead whole. */
export function SplitByLab(props: { record: TestSmeltRecord; facts: SmeltFacts }) {
  const { record, facts } = props;
  const format = useFormat();
  const ratio = silverToGoldRatioOf(facts.lot);
  if (record.beadMg === null || record.partedGoldMg !== null || ratio === null) return null;
  const { smelt } = smeltFromRecord(record, facts);
  const { goldGpt, silverGpt, findings } = workTestSmelt({ ...smelt, silverToGoldRatioFromAssay: ratio });
  if (goldGpt === null || silverGpt === null) return null;
  return (
    <>
      <p>
        Split by the laboratory, the bead would hold {format.measuredQuantity('gradeGpt', goldGpt)} of gold
        and {format.measuredQuantity('gradeGpt', silverGpt)} of silver. This split is a guide: it takes both
        as recovered alike, so it counts in no mean. What the lot holds hears the bead by its gold and silver
        together, which needs no guess; parting tells more.
      </p>
      <FindingList
        label="About the split"
        findings={findings.filter(({ code }) => code === 'split-by-lab-ratio')}
      />
    </>
  );
}
