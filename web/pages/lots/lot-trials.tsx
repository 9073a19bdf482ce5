import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { replicateFindings } from '../../../api/calc/assay/replicate-findings.ts';
import type { WorkedTrial } from '../../../api/calc/facts/lot-evidence.ts';
import type { Measured } from '../../../api/calc/measured.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import { recoveredByTrial, recoveredByTrialTable } from '../../../reports/charts/recovered-by-trial.ts';
import type { RecoveredByTrialChart } from '../../../reports/charts/recovered-by-trial.ts';
import { treatmentsQuery, trialsOfLotsQuery } from '../../lib/bench-queries.ts';
import { gradeUnitOf } from '../../lib/grade-unit.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { shownUnit, shownValue } from '../../lib/quantities.ts';
import {
  counted,
  gradeTexts,
  percentMeasured,
  percentOfTests,
  warningsText,
} from '../../lib/worked-tests.ts';
import { DataTable } from '../../parts/data-table.tsx';
import type { DataRow } from '../../parts/data-table.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { SceneFigure } from '../../parts/scene-figure.tsx';
import { CompareTrials } from './compare-trials.tsx';
import { PlainWords } from './plain-words.tsx';
import { TrialEditors } from './trial-editor.tsx';

function chartOf(lot: Lot, trials: readonly WorkedTrial[], owner: OwnerChoices): RecoveredByTrialChart {
  const shown = (gpt: number): number => shownValue('gradeGpt', gpt, owner);
  const measured = (grade: Measured | undefined): Measured | null =>
    grade === undefined ? null : { value: shown(grade.value), u: shown(grade.u) };
  return {
    title: `Recovered from ${lot.code} by trial`,
    unit: shownUnit('gradeGpt', owner),
    trials: trials.map((trial) => ({
      name: trial.name,
      gold: measured(trial.result?.gold?.meanGpt),
      silver: measured(trial.result?.silver?.meanGpt),
      replicates: counted(trial).map(({ result: { goldGpt, silverGpt } }) => ({
        gold: goldGpt && shown(goldGpt.value),
        silver: silverGpt && shown(silverGpt.value),
      })),
    })),
  };
}

/** The trials of a lot: what each test recovered, the means, and any two held against each other. */
export function LotTrials(props: { lot: Lot; trials: readonly WorkedTrial[] }) {
  const { lot, trials } = props;
  const { data: records } = useSuspenseQuery(trialsOfLotsQuery([lot.id]));
  const { data: treatments } = useSuspenseQuery(treatmentsQuery);
  const owner = useOwner();
  const tested = trials.filter((trial) => counted(trial).length > 0);
  if (trials.length === 0) return null;
  const chart = chartOf(lot, tested, owner);
  const withGrade = chart.trials.some(({ gold, silver }) => gold !== null || silver !== null);
  const findings = replicateFindings(
    trials.flatMap((trial) =>
      trial.result === null
        ? []
        : [{ name: trial.name, tests: counted(trial).map(({ sample }) => sample), result: trial.result }],
    ),
    gradeUnitOf(owner),
  );
  return (
    <>
      {withGrade ? (
        <SceneFigure draw={(width) => recoveredByTrial(chart, width)} table={recoveredByTrialTable(chart)} />
      ) : null}
      <TrialTable trials={trials} />
      <FindingList label="What the replicates say" findings={findings} />
      <CompareTrials trials={tested} />
      <PlainWords />
      <TrialEditors trials={records} treatments={treatments} />
    </>
  );
}

function TrialTable(props: { trials: readonly WorkedTrial[] }) {
  const { trials } = props;
  const format = useFormat();
  const rows = trials.flatMap((trial): DataRow[] => {
    const tests = counted(trial);
    const section: DataRow = {
      key: trial.id,
      style: 'section',
      cells: {
        test: (
          <>
            {trial.name}
            {trial.treatmentName === trial.name ? null : (
              <span className="muted"> ({trial.treatmentName ?? 'no treatment named'})</span>
            )}
          </>
        ),
      },
      detail: (
        <IfOpen change="POST /test-smelts">
          <Link to="/test-smelts/new" search={{ trial: trial.id }}>
            New test smelt in {trial.name}
          </Link>
        </IfOpen>
      ),
    };
    const singles = trial.smelts.map((smelt): DataRow => {
      const aside = smelt.setAsideReason;
      const warnings = warningsText(smelt);
      return {
        key: smelt.id,
        cells: {
          test: (
            <Link to="/test-smelts/$smeltId" params={{ smeltId: smelt.id }}>
              Test {smelt.sample}
            </Link>
          ),
          ...gradeTexts(smelt.result, format),
          lead: percentMeasured(smelt.result.leadReturnFrac, format),
          matte: percentMeasured(smelt.result.matteFallFrac, format),
        },
        detail: aside !== null ? `Set aside, does not count: ${aside}` : warnings,
      };
    });
    if (tests.length < 2 || trial.result === null) return [section, ...singles];
    const { gold, silver, goldPlusSilver } = trial.result;
    return [
      section,
      ...singles,
      {
        key: `${trial.id} mean`,
        style: 'subtotal',
        cells: {
          test: `Mean of ${tests.length}`,
          ...gradeTexts(
            {
              goldGpt: gold?.meanGpt ?? null,
              silverGpt: silver?.meanGpt ?? null,
              goldPlusSilverGpt: goldPlusSilver?.meanGpt ?? null,
            },
            format,
          ),
          lead: percentOfTests(tests, (smelt) => smelt.result.leadReturnFrac, format),
          matte: percentOfTests(tests, (smelt) => smelt.result.matteFallFrac, format),
        },
      },
    ];
  });
  return (
    <DataTable
      caption="Recovered, counted on the dry sample, ± two standard uncertainties; means with the span of lead return and matte fall"
      narrow="stack"
      columns={[
        { key: 'test', label: 'Test', align: 'start' },
        { key: 'gold', label: 'Gold', align: 'end' },
        { key: 'silver', label: 'Silver', align: 'end' },
        { key: 'lead', label: 'Lead return', align: 'end' },
        { key: 'matte', label: 'Matte fall', align: 'end' },
      ]}
      rows={rows}
    />
  );
}
