import type { WorkedTrial } from '../../../api/calc/facts/lot-evidence.ts';
import type { TrialFacts } from '../../../api/calc/facts/records.ts';
import { goldGptForSampling, samplingError } from '../../../api/calc/facts/sampling-from-record.ts';
import { sampledByLaboratoryG } from '../../../api/calc/facts/lab-observations.ts';
import type { Lot, LotSampling } from '../../../api/schemas/lot.ts';
import type { Formatter } from '../../lib/format.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import type { DataRow } from '../../parts/data-table.tsx';
import { SamplingForm } from './sampling-form.tsx';
import { WantedSample } from './wanted-sample.tsx';

/** How far a sample of the lot may be off by chance alone, and how large a sample would do. */
export function LotSamplingPart(props: {
  lot: Lot;
  trials: readonly TrialFacts[];
  worked: readonly WorkedTrial[];
}) {
  const { lot, trials, worked } = props;
  const { sampling } = lot;
  return (
    <>
      <h2>Taking samples</h2>
      {sampling === null ? (
        <p>
          How the gold sits in this lot is not noted, so the error of taking a sample is left out everywhere.
          With coarse gold it is often the largest of all: note it here.
        </p>
      ) : (
        <Known lot={lot} sampling={sampling} trials={trials} />
      )}
      <WantedSample lot={lot} trials={trials} worked={worked} />
      <details className="record-form">
        <summary>{sampling === null ? 'Note how the gold sits' : 'Change how the gold sits'}</summary>
        <SamplingForm key={JSON.stringify(sampling)} lot={lot} />
      </details>
    </>
  );
}

function Known(props: { lot: Lot; sampling: LotSampling; trials: readonly TrialFacts[] }) {
  const { lot, sampling, trials } = props;
  const format = useFormat();
  const goldGpt = goldGptForSampling(lot, trials);
  if (goldGpt === null)
    return (
      <p>
        {sentenceOf(sampling, format)} With a first gold grade of the lot, the error of its samples shows
        here.
      </p>
    );
  return (
    <>
      <p>
        {sentenceOf(sampling, format)} Reckoned with {format.quantity('gradeGpt', goldGpt)} of gold.
      </p>
      <DataTable
        caption="Error of the samples taken, by chance alone (± two standard deviations)"
        narrow="stack"
        empty="No sample is taken yet."
        columns={[
          { key: 'sample', label: 'Sample', align: 'start' },
          { key: 'mass', label: 'Mass', align: 'end' },
          { key: 'gold', label: '± of gold', align: 'end' },
          { key: 'silver', label: '± of silver', align: 'end' },
        ]}
        rows={[...smeltRows(lot, trials, goldGpt, format), ...laboratoryRows(lot, goldGpt, format)]}
      />
      <p className="muted">
        It is in the ± of every test smelt above. Segregation and careless splitting come on top.
      </p>
    </>
  );
}

function sentenceOf(sampling: LotSampling, format: Formatter): string {
  const fineness = `${format.significant(100 * sampling.goldFrac, 3)} % gold`;
  const silver = sampling.silverWithGold ? 'the silver in it' : 'the silver elsewhere';
  return sampling.model === 'coarse-gold'
    ? `Free gold, ${sampling.grainShape === 'flake' ? 'flakes' : 'grains'} of ${sampling.grainSizeMm} mm and ${fineness}, ${silver}.`
    : `Ore below ${sampling.topSizeMm} mm, the gold free at ${sampling.liberationSizeMm} mm and ${fineness}, ${silver}.`;
}

function errorCells(
  lot: Lot,
  goldGpt: number,
  sampleMassG: number | null,
  format: Formatter,
): { gold: string; silver: string } {
  const error = sampleMassG === null ? null : samplingError({ lot, goldGpt, sampleMassG });
  const text = (relativeSd: number | undefined): string =>
    relativeSd === undefined
      ? 'not known'
      : relativeSd < 0.0005
        ? 'under 0.1 %'
        : `± ${format.significant(200 * relativeSd, 2)} %`;
  return { gold: text(error?.relativeSdGold), silver: text(error?.relativeSdSilver) };
}

/** One row for each mass that was taken: replicates of one mass have one error. */
function smeltRows(lot: Lot, trials: readonly TrialFacts[], goldGpt: number, format: Formatter): DataRow[] {
  const taken = trials.flatMap((trial) => trial.smelts);
  const rounded = (massG: number): number => Number(massG.toPrecision(2));
  const masses = [...new Set(taken.map((smelt) => rounded(smelt.sampleMassG)))].toSorted((a, b) => a - b);
  return masses.map((massG): DataRow => {
    const count = taken.filter((smelt) => rounded(smelt.sampleMassG) === massG).length;
    return {
      key: String(massG),
      cells: {
        sample: count === 1 ? 'One test smelt' : `${count} test smelts`,
        mass: `about ${format.significant(massG, 2)} g`,
        ...errorCells(lot, goldGpt, massG, format),
      },
    };
  });
}

function laboratoryRows(lot: Lot, goldGpt: number, format: Formatter): DataRow[] {
  const laboratories = [
    ...new Set(lot.labAssays.filter(({ element }) => element === 'Au').map(({ laboratory }) => laboratory)),
  ];
  return laboratories.map((laboratory): DataRow => {
    const massG = sampledByLaboratoryG(lot.labAssays, { laboratory, element: 'Au' });
    return {
      key: laboratory,
      cells: {
        sample: `Gold assay of ${laboratory}`,
        mass: massG === null ? 'not noted' : `${massG} g`,
        ...errorCells(lot, goldGpt, massG, format),
      },
    };
  });
}
