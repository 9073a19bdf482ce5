import type { Mill } from '../../../api/schemas/mill.ts';
import type { ProductionDay } from '../../../api/schemas/production-day.ts';

type FeedUnit = ProductionDay['feedUnit'];

export const feedUnitChoices: { value: FeedUnit; label: string }[] = [
  { value: 't', label: 'tonnes' },
  { value: 'short ton', label: 'short tons' },
  { value: 'm3', label: 'cubic metres' },
  { value: 'yd3', label: 'cubic yards' },
  { value: 'loader', label: 'loader buckets' },
];

/** As it stands behind a figure. */
export const feedUnitText: Record<FeedUnit, string> = {
  t: 't',
  'short ton': 'short tons',
  m3: 'm³',
  yd3: 'yd³',
  loader: 'buckets',
};

/** What one of the unit weighs, t: by definition for tonnes and short tons (2000 lb of 0.45359237 kg), else as the mill has it. */
export function tonnesPerUnit(
  unit: FeedUnit,
  mill: Pick<Mill, 'feedUnit' | 'feedTonnesPerUnit'>,
): string | null {
  if (unit === 't') return '1';
  if (unit === 'short ton') return '0.90718474';
  return unit === mill.feedUnit ? mill.feedTonnesPerUnit : null;
}

export const hasFixedWeight = (unit: FeedUnit): boolean => unit === 't' || unit === 'short ton';
