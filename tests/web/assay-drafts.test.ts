import { describe, expect, it } from 'vitest';
import { newBalanceCheck } from '../../api/schemas/balance.ts';
import { lotSampling } from '../../api/schemas/lot.ts';
import type { LotSampling } from '../../api/schemas/lot.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import {
  checkFromDraft,
  checkSoFar,
  emptyCheck,
  repeatedReadings,
} from '../../web/pages/balances/check-draft.ts';
import { emptyScreening, partsOf, screeningText } from '../../web/pages/lots/screening-draft.ts';
import { samplingDraftOf, samplingFromDraft } from '../../web/pages/lots/sampling-draft.ts';
import { formatter } from '../../web/lib/format.ts';

const comma = { ...plainChoices, decimalComma: true };
const ounces = { ...plainChoices, gradeUnit: 'oz/short ton' as const };

describe('the draft of a balance check', () => {
  it('reads readings with any blank between, and names the first that is none', () => {
    expect(repeatedReadings(' 20.01\n20.02 ;20.00', plainChoices)).toEqual({
      readingsG: [20.01, 20.02, 20],
      unreadable: null,
    });
    expect(repeatedReadings('20,01 20,02', comma).readingsG).toEqual([20.01, 20.02]);
    expect(repeatedReadings('20.01 2o.02', plainChoices)).toEqual({
      readingsG: [20.01],
      unreadable: '2o.02',
    });
  });

  it('is judged as far as both fields of a weight can be read', () => {
    const draft = {
      ...emptyCheck('2026-06-01'),
      readings: [
        { nominalMassG: '20', readingG: '20.01' },
        { nominalMassG: '50', readingG: '' },
        { nominalMassG: '0', readingG: '0' },
      ],
    };
    expect(checkSoFar(draft, plainChoices).readings).toEqual([{ nominalMassG: 20, readingG: 20.01 }]);
  });

  it.each(['check-weights', 'repeat-weighing'] as const)('is sent as the server takes it (%s)', (kind) => {
    const draft = {
      ...emptyCheck('2026-06-01'),
      kind,
      repeated: '20.01 20.02',
      readings: [{ nominalMassG: '20', readingG: '20.01' }],
    };
    expect(newBalanceCheck.parse(checkFromDraft(draft, plainChoices)).kind).toBe(kind);
  });
});

describe('the draft of how the gold sits', () => {
  const gold = { goldFrac: 0.853, grainDensityGpml: null, silverWithGold: false };
  const samplings: LotSampling[] = [
    { model: 'coarse-gold', grainSizeMm: 0.25, grainShape: 'flake', ...gold },
    {
      model: 'gy',
      topSizeMm: 1.2,
      liberationSizeMm: 0.15,
      shapeFactor: 0.2,
      liberationExponent: 0.5,
      ...gold,
      grainDensityGpml: 16.9,
    },
  ];
  it.each(samplings)('gives back what is recorded, point or comma ($model)', (sampling) => {
    for (const owner of [plainChoices, comma])
      expect(lotSampling.parse(samplingFromDraft(samplingDraftOf(sampling, owner), owner))).toEqual(sampling);
  });

  it('starts from what is common and sends none of the other model’s fields', () => {
    const draft = { ...samplingDraftOf(null, comma), grainSizeMm: '0,5', topSizeMm: 'left over' };
    expect(samplingFromDraft(draft, comma)).toEqual({
      model: 'coarse-gold',
      grainSizeMm: 0.5,
      grainShape: 'nugget',
      goldFrac: 0.85,
      grainDensityGpml: null,
      silverWithGold: true,
    });
  });
});

describe('the draft of a screened assay', () => {
  it('turns grades typed in the owner’s unit into g/t and leaves out what is not typed', () => {
    const parts = partsOf(
      {
        ...emptyScreening('balance'),
        coarseMassG: '20',
        coarseMetalMg: '300',
        fineMassG: '480',
        fineAssays: [
          { gradeGpt: '10', standardUncertaintyGpt: '' },
          { gradeGpt: '', standardUncertaintyGpt: '' },
        ],
      },
      ounces,
    );
    // 1 troy ounce per short ton is 34.2857 g/t (31.1034768 g in 0.90718474 t).
    expect(parts.fineAssays).toHaveLength(1);
    expect(parts.fineAssays[0]?.gradeGpt).toBeCloseTo((10 * 31.1034768) / 0.90718474, 6);
    expect(parts.fineAssays[0]?.standardUncertaintyGpt).toBeNull();
  });

  it('is told in a sentence with its working', () => {
    const text = screeningText(
      {
        screenMm: 0.1,
        coarseMassG: 20,
        coarseMetalMg: 300,
        coarseMetalStandardUncertaintyMg: null,
        fineMassG: 480,
        fineAssays: [{ gradeGpt: 405, standardUncertaintyGpt: null }],
        balance: { name: 'Balance', readabilityG: '0.01', repeatabilityG: '0.01' },
      },
      formatter(plainChoices),
    );
    // 300 of 300 + 194.4 mg.
    expect(text).toContain('20 g on the screen held 300 mg');
    expect(text).toMatch(/61\s% of it stayed on the screen/);
  });
});
