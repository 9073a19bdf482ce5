import { useState } from 'react';
import { coarseGoldSampling } from '../../../api/calc/assay/coarse-gold.ts';
import type { CoarseGold } from '../../../api/calc/assay/coarse-gold.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { NumberField } from '../../parts/number-field.tsx';

/** Placer and vein gold is seldom pure: 85 % gold, at about 17 g/mL (from memory of common finenesses). */
const usualGrain = { grainGoldFrac: 0.85, grainDensityGpml: 17 } as const;

/** How far chance alone scatters a sample with coarse gold, and how large a sample would tame it. */
export function SampleSize(props: { lot: Lot; goldGpt: number }) {
  const { lot, goldGpt } = props;
  const owner = useOwner();
  const format = useFormat();
  const [sampleMass, setSampleMass] = useState('100');
  const [grainSize, setGrainSize] = useState('');
  const [wanted, setWanted] = useState('10');
  const [shape, setShape] = useState<CoarseGold['shape']>('nugget');
  const read = (typed: string): number => {
    const parsed = parseDecimal(typed, owner);
    return parsed.ok && parsed.decimal !== null ? Number(parsed.decimal) : 0;
  };
  const sampleMassG = read(sampleMass);
  const diameterMm = read(grainSize);
  const wantedPercent = read(wanted);
  const worked =
    diameterMm > 0 && sampleMassG > 0 && wantedPercent > 0
      ? coarseGoldSampling({
          gradeGpt: goldGpt,
          sampleMassG,
          lotMassG: Number(lot.dryMassKg) * 1000,
          shape,
          sizes: [{ diameterMm, goldShareFrac: 1 }],
          wantedRelativeSd: wantedPercent / 100,
          ...usualGrain,
        })
      : null;
  return (
    <details>
      <summary>How large must a sample be, with coarse gold?</summary>
      <Fieldset
        legend="Coarse gold"
        hint="Pan a little, screen the gold and measure the size that most of it has. Grains are taken as 85 % gold."
      >
        <NumberField
          label="Size of the gold grains"
          unit="mm"
          max={50}
          value={grainSize}
          onChange={setGrainSize}
        />
        <ChoiceField
          label="Shape"
          value={shape}
          onChange={setShape}
          choices={[
            { value: 'nugget', label: 'Grains, about as thick as wide' },
            { value: 'flake', label: 'Flakes, ten times as wide as thick' },
          ]}
        />
        <NumberField label="Sample mass" unit="g" value={sampleMass} onChange={setSampleMass} />
        <NumberField
          label="Scatter that you would accept"
          unit="% (one standard deviation)"
          max={100}
          value={wanted}
          onChange={setWanted}
        />
      </Fieldset>
      <div role="status">
        {worked === null ? (
          <p className="muted">With the size of the grains, the sampling error shows here.</p>
        ) : (
          <>
            <p>
              A sample of {format.significant(sampleMassG, 4)} g scatters by{' '}
              {format.percent(worked.relativeSd, 1)} (one standard deviation) by chance alone; it holds gold
              as in {format.significant(worked.effectiveGrains, 2)} equal grains. For{' '}
              {format.significant(wantedPercent, 3)} % take{' '}
              <strong>{format.significant(worked.sampleMassForWantedG, 2)} g</strong>.
            </p>
            <FindingList findings={worked.findings} />
          </>
        )}
      </div>
    </details>
  );
}
