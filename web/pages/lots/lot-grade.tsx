import type { Metal } from '../../../api/calc/evidence/lot-evidence.ts';
import type { Summary } from '../../../api/calc/evidence/summary.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { EvidenceAnswer } from '../../lib/evidence-messages.ts';
import type { EstimateRange, Formatter } from '../../lib/format.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { shownValue } from '../../lib/quantities.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Range } from '../../parts/range.tsx';

const metals: readonly [Metal, string][] = [
  ['Au', 'gold'],
  ['Ag', 'silver'],
];

const rangeOf = ({ p10, p50, p90 }: Summary, convert: (value: number) => number): EstimateRange => ({
  low: convert(p10),
  median: convert(p50),
  high: convert(p90),
});

/** What the lot holds and what of it is left, in a sentence. */
export function LotLead(props: { lot: Lot; evidence: EvidenceAnswer }) {
  const { lot, evidence } = props;
  const format = useFormat();
  const owner = useOwner();
  const left = format.quantity('lotMassKg', Number(lot.leftKg));
  const known = metals.flatMap(([metal, name]) => {
    const grade = evidence.summary[metal].gradeGpt;
    return grade === null ? [] : [{ name, grade }];
  });
  if (known.length === 0)
    return (
      <Lead>
        {left} dry is left. What gold and silver it holds is not known yet: a test smelt or a lab assay would
        tell.
      </Lead>
    );
  const leftKg = Math.max(0, Number(lot.leftKg));
  return (
    <Lead>
      {left} dry is left, with about{' '}
      {known.map(({ name, grade }, place) => (
        <span key={name}>
          {place === 0 ? '' : ' and '}
          <Range
            // 1 g/t in 1 kg is 1 mg.
            range={rangeOf(grade, (gpt) => shownValue('metalMassG', (gpt * leftKg) / 1000, owner))}
            unit={format.unit('metalMassG')}
          />{' '}
          of {name}
        </span>
      ))}
      . What a treatment recovers of it comes below.
    </Lead>
  );
}

/** True grade and recoveries, inferred from every test and assay of the lot together. */
export function LotGrade(props: { lot: Lot; evidence: EvidenceAnswer }) {
  const { lot, evidence } = props;
  const format = useFormat();
  const owner = useOwner();
  const percent = (value: number): number => value * 100;
  const grade = (summary: Summary) => (
    <Range
      range={rangeOf(summary, (gpt) => shownValue('gradeGpt', gpt, owner))}
      unit={format.unit('gradeGpt')}
    />
  );
  /** As it is typed: mean and standard deviation. */
  const asExpected = ({ mean, sd }: Summary): string =>
    `${format.number(percent(mean), 1)} ± ${format.number(percent(sd), 1)} %`;
  const frac = (summary: Summary) => <Range range={rangeOf(summary, percent)} unit="%" />;
  const findings = <FindingList label="What to bear in mind about this lot" findings={evidence.findings} />;
  if (metals.every(([metal]) => evidence.summary[metal].gradeGpt === null))
    return (
      <>
        <h2>What tests and assays say together</h2>
        {findings}
      </>
    );
  return (
    <>
      <h2>What tests and assays say together</h2>
      <p>
        What a test recovers is the true grade times the recovery of its treatment. All test smelts and lab
        assays of the lot are weighed against each other, starting from what each treatment was expected to
        recover.
      </p>
      <DataTable
        caption={`True grade of ${lot.code}, dry`}
        narrow="stack"
        columns={[
          { key: 'metal', label: 'Metal', align: 'start' },
          { key: 'grade', label: 'Grade', align: 'end' },
          { key: 'spread', label: 'Samples scatter', align: 'end' },
        ]}
        rows={metals.map(([metal, name]) => {
          const { gradeGpt, replicateSdFrac } = evidence.summary[metal];
          return {
            key: metal,
            cells: {
              metal: name === 'gold' ? 'Gold' : 'Silver',
              grade: gradeGpt === null ? 'not known' : grade(gradeGpt),
              spread: replicateSdFrac === null ? 'not known' : frac(replicateSdFrac),
            },
          };
        })}
      />
      {metals.map(([metal, name]) => (
        <DataTable
          key={metal}
          caption={`Recovery of ${name} by treatment, as expected before (± one standard deviation) and known after the tests of this lot`}
          narrow="stack"
          columns={[
            { key: 'treatment', label: 'Treatment', align: 'start' },
            { key: 'tests', label: 'Tests', align: 'end' },
            { key: 'before', label: 'Before', align: 'end' },
            { key: 'after', label: 'After', align: 'end' },
          ]}
          rows={evidence.summary[metal].recoveries.map((recovery) => ({
            key: recovery.treatmentId,
            cells: {
              treatment: recovery.name,
              tests: String(recovery.testCount),
              before: asExpected(recovery.prior),
              after: recovery.testCount === 0 ? 'no test: as before' : frac(recovery.posterior),
            },
          }))}
          empty="No treatment is entered yet."
        />
      ))}
      <p className="muted">{drawsText(evidence, format)}</p>
      {findings}
    </>
  );
}

/** What the ranges rest on, and how much of it is left after beads that are not parted. */
function drawsText({ drawCount, effectiveDraws }: EvidenceAnswer, format: Formatter): string {
  const drawn = `Worked from ${format.number(drawCount, 0)} possible lots, each drawn by how well it fits`;
  return effectiveDraws >= drawCount
    ? `${drawn} the tests and assays. No two lean on each other, so their effective sample size is all of them.`
    : `${drawn} the parted tests and assays, then weighed by the beads that are not parted: as good as ${format.significant(effectiveDraws, 2)} independent ones (effective sample size).`;
}
