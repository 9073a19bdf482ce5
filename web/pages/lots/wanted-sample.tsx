import { testMassForErrorG } from '../../../api/calc/assay/ingamells.ts';
import type { SamplingConstant } from '../../../api/calc/assay/ingamells.ts';
import type { WorkedTrial } from '../../../api/calc/facts/lot-evidence.ts';
import type { TrialFacts } from '../../../api/calc/facts/records.ts';
import { samplingByReplicates } from '../../../api/calc/facts/sampling-by-replicates.ts';
import { goldGptForSampling, sampleMassForG } from '../../../api/calc/facts/sampling-from-record.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { Formatter } from '../../lib/format.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { useSearchState } from '../../lib/use-search-state.ts';
import { NumberField } from '../../parts/number-field.tsx';

/** The error that the owner would accept, ± two standard deviations in percent: kept in the address. */
const start = { samplingError: '10' };

/** What sample the owner would have to take for the error of choice: by how the gold sits, and by the lot's replicates. */
export function WantedSample(props: {
  lot: Lot;
  trials: readonly TrialFacts[];
  worked: readonly WorkedTrial[];
}) {
  const { lot, trials, worked } = props;
  const owner = useOwner();
  const format = useFormat();
  const { values, set } = useSearchState(start);
  const parsed = parseDecimal(values.samplingError, owner);
  const percent = parsed.ok && parsed.decimal !== null ? Number(parsed.decimal) : 0;
  const relativeSd = percent / 200;
  const byGrains =
    percent > 0 ? sampleMassForG({ lot, goldGpt: goldGptForSampling(lot, trials), relativeSd }) : null;
  const constants = (['gold', 'silver'] as const).flatMap((metal) => {
    const constant = samplingByReplicates({ trials, worked, metal });
    return constant === null ? [] : [{ metal, constant }];
  });
  if (byGrains === null && constants.length === 0 && percent > 0)
    return (
      <p>
        What sample would do is told by how the gold sits, or by two parted tests of one trial: neither is
        there yet.
      </p>
    );
  return (
    <>
      <NumberField
        label="Error that you would accept"
        unit="± % (two standard deviations)"
        min={0.1}
        max={200}
        hint="Kept in the address of this page."
        value={values.samplingError}
        onChange={(typed) => set('samplingError', typed)}
      />
      <div role="status">
        {percent > 0 ? (
          <>
            {byGrains === null ? null : (
              <p>
                By how the gold sits, ± {format.significant(percent, 3)} % of gold takes{' '}
                <strong>{massText(byGrains, format)}</strong> of the lot for each test, or grind it finer
                first.
              </p>
            )}
            {constants.map(({ metal, constant }) => (
              <p key={metal}>{byReplicates(metal, constant, { percent, lot, format })}</p>
            ))}
          </>
        ) : (
          <p>With an error above zero, the sample that it takes shows here.</p>
        )}
      </div>
      {constants.length === 0 ? null : (
        <p className="muted">
          What replicates show (Ingamells’ constant) holds the smelt as well as the sampling, so it asks
          rather for too much. Where it asks for far more than the gold’s grains do, a larger sample is not
          what helps.
        </p>
      )}
    </>
  );
}

/** "By the scatter of the lot's own tests, ± 10 % of gold takes about 70 g (8 in 10: 45 to 140 g)." */
function byReplicates(
  metal: string,
  constant: SamplingConstant,
  { percent, lot, format }: { percent: number; lot: Lot; format: Formatter },
): string {
  const { constantG, lowG, highG, weighingG, repeatMassG, degreesOfFreedom } = constant;
  const relativeSd = percent / 200;
  const mass = (kG: number): number => testMassForErrorG({ ...constant, constantG: kG, relativeSd });
  const by = `By the scatter of the lot’s own tests (${degreesOfFreedom === 1 ? 'one repeat' : `${degreesOfFreedom} repeats`}) and their weighing`;
  const wanted = `± ${format.significant(percent, 3)} % of ${metal}`;
  const massG = mass(constantG);
  if (massG === 0) return `${by}, nothing can be said of ${metal}: they agree to the last figure.`;
  if (massG > 1000 * Number(lot.dryMassKg)) return `${by}, no sample of this lot would bring ${wanted}.`;
  const range =
    mass(highG) > 1.02 * mass(lowG)
      ? ` (8 in 10: ${massText(mass(lowG), format)} to ${massText(mass(highG), format)})`
      : '';
  const ofWeighing = (weighingG * repeatMassG) / 1e4 / massG ** 2 / relativeSd ** 2;
  const balance =
    ofWeighing > 0.5 ? ' It is the balance that asks for so much: a finer one would do with less.' : '';
  return `${by}, ${wanted} takes about ${massText(massG, format)} for each test${range}.${balance}`;
}

const massText = (massG: number, format: Formatter): string =>
  massG < 1000 ? `${format.significant(massG, 2)} g` : `${format.significant(massG / 1000, 2)} kg`;
