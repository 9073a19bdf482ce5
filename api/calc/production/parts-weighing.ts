import type { Finding } from '../finding.ts';
import { Dec, sumOf } from '../money.ts';

/** Two weighings differ by more than chance where they are further apart than so many standard uncertainties. */
const COVERAGE = 2;

/**
 * A lot's own weighing held against what was taken for it, kg dry: a finding where they differ by more than twice
 * √(u(lot)² + Σ u(part)²), each u the relative standard uncertainty of the scale for lots times the mass.
 */
export function partsAgainstWeighing(lot: {
  code: string;
  dryMassKg: string;
  parts: readonly { dryMassKg: string }[];
  scaleUncertaintyFrac: number;
}): Finding[] {
  if (lot.parts.length === 0) return [];
  const taken = sumOf(lot.parts.map(({ dryMassKg }) => dryMassKg));
  const difference = new Dec(lot.dryMassKg).minus(taken).toNumber();
  const u =
    lot.scaleUncertaintyFrac *
    Math.hypot(Number(lot.dryMassKg), ...lot.parts.map(({ dryMassKg }) => Number(dryMassKg)));
  if (Math.abs(difference) <= Math.max(COVERAGE * u, 1e-9)) return [];
  const kg = (value: number): string => `${Number(Math.abs(value).toPrecision(3))} kg`;
  return [
    {
      code: 'parts-do-not-add-up',
      level: 'warning',
      path: '/parts',
      sentence: `Lot ${lot.code} weighs ${lot.dryMassKg} kg dry, ${kg(difference)} ${difference > 0 ? 'more' : 'less'} than the ${taken.toFixed()} kg that were taken for it, and more than the scale explains (${kg(COVERAGE * u)}): look at moistures and for a part that is missing.`,
    },
  ];
}
