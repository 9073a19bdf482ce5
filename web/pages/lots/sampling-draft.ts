import type { LotSampling } from '../../../api/schemas/lot.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { editableText, numberOf, shiftPoint } from '../../lib/parse-decimal.ts';
import { fracOfPercent } from './lot-draft.ts';

/** How the gold sits in a lot, as it is typed; fields of the other model stay in the draft and are not sent. */
export interface SamplingDraft {
  model: LotSampling['model'];
  grainSizeMm: string;
  grainShape: 'nugget' | 'flake';
  topSizeMm: string;
  liberationSizeMm: string;
  shapeFactor: string;
  liberationExponent: string;
  /** In percent. */
  goldFrac: string;
  grainDensityGpml: string;
  silverWithGold: boolean;
}

/** Native gold is seldom pure: 85 % gold is common (from memory of placer finenesses). */
const usual: SamplingDraft = {
  model: 'coarse-gold',
  grainSizeMm: '',
  grainShape: 'nugget',
  topSizeMm: '',
  liberationSizeMm: '',
  shapeFactor: '0.5',
  liberationExponent: '1.5',
  goldFrac: '85',
  grainDensityGpml: '',
  silverWithGold: true,
};

export function samplingDraftOf(sampling: LotSampling | null, owner: OwnerChoices): SamplingDraft {
  const text = (value: number | null): string => editableText(value, owner);
  const start = { ...usual, shapeFactor: text(0.5) };
  if (sampling === null) return start;
  const gold = {
    model: sampling.model,
    goldFrac: editableText(shiftPoint(String(sampling.goldFrac), 2), owner),
    grainDensityGpml: text(sampling.grainDensityGpml),
    silverWithGold: sampling.silverWithGold,
  };
  return sampling.model === 'coarse-gold'
    ? { ...start, ...gold, grainSizeMm: text(sampling.grainSizeMm), grainShape: sampling.grainShape }
    : {
        ...start,
        ...gold,
        topSizeMm: text(sampling.topSizeMm),
        liberationSizeMm: text(sampling.liberationSizeMm),
        shapeFactor: text(sampling.shapeFactor),
        liberationExponent: String(sampling.liberationExponent),
      };
}

/** What is sent; only for a draft whose fields have been accepted. */
export function samplingFromDraft(draft: SamplingDraft, owner: OwnerChoices): LotSampling {
  const number = (typed: string): number => numberOf(typed, owner) ?? 0;
  const gold = {
    goldFrac: Number(fracOfPercent(draft.goldFrac, owner) ?? '0'),
    grainDensityGpml: numberOf(draft.grainDensityGpml, owner),
    silverWithGold: draft.silverWithGold,
  };
  return draft.model === 'coarse-gold'
    ? { model: 'coarse-gold', grainSizeMm: number(draft.grainSizeMm), grainShape: draft.grainShape, ...gold }
    : {
        model: 'gy',
        topSizeMm: number(draft.topSizeMm),
        liberationSizeMm: number(draft.liberationSizeMm),
        shapeFactor: number(draft.shapeFactor),
        liberationExponent: Number(draft.liberationExponent),
        ...gold,
      };
}
