import type { Traced, UncertaintySource } from './traced.ts';

/** Every source of uncertainty in a test smelt. */
export const sources = {
  sample: { name: 'weighing the sample', kind: 'weighing' },
  collectorLead: { name: 'weighing the collector lead', kind: 'weighing' },
  litharge: { name: 'weighing the litharge', kind: 'weighing' },
  button: { name: 'weighing the button', kind: 'weighing' },
  matte: { name: 'weighing the matte', kind: 'weighing' },
  matteAssay: { name: 'assay of the matte', kind: 'shared' },
  slag: { name: 'weighing the slag', kind: 'weighing' },
  roastBefore: { name: 'weighing before the roast', kind: 'weighing' },
  roastAfter: { name: 'weighing after the roast', kind: 'weighing' },
  bead: { name: 'weighing the bead', kind: 'weighing' },
  partedGold: { name: 'weighing the parted gold', kind: 'weighing' },
  goldSampling: { name: 'sampling, gold', kind: 'sampling' },
  silverSampling: { name: 'sampling, silver', kind: 'sampling' },
  unpartedSampling: { name: 'sampling, gold and silver', kind: 'sampling' },
  blank: { name: 'silver in the lead (blank)', kind: 'shared' },
  sampleLead: { name: 'lead assay of the sample', kind: 'shared' },
  silverLoss: { name: 'silver lost in cupelling', kind: 'shared' },
  goldLoss: { name: 'gold lost in cupelling', kind: 'shared' },
  labRatio: { name: 'silver to gold ratio of the lab assay', kind: 'shared' },
} satisfies Record<string, UncertaintySource>;

/** What one source does to one grade. */
export interface BudgetShare {
  target: 'gold' | 'silver' | 'goldPlusSilver';
  source: string;
  /** Shared sources are the same in every replicate: more replicates do not lessen them. */
  kind: UncertaintySource['kind'];
  /** What it alone would make of the standard uncertainty of the grade, g/t. */
  uGpt: number;
  /** Its part of the variance of the grade; the parts of one grade add up to 1. */
  shareFrac: number;
}

/** Uncertainty budget of one grade, largest share first; empty where nothing is uncertain or the grade is missing. */
export function budgetOf(target: BudgetShare['target'], grade: Traced | null): BudgetShare[] {
  if (grade === null) return [];
  const parts = [...grade.contributions].filter(([, part]) => part !== 0);
  const variance = parts.reduce((total, [, part]) => total + part * part, 0);
  return parts
    .map(([source, part]) => ({
      target,
      source: source.name,
      kind: source.kind,
      uGpt: Math.abs(part),
      shareFrac: (part * part) / variance,
    }))
    .sort((a, b) => b.shareFrac - a.shareFrac);
}
