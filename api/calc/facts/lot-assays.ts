import { combineLabAssays } from '../assay/lab-assay.ts';
import type { AssayUnit, CombinedLabAssay } from '../assay/lab-assay.ts';
import { averageDuplicates } from '../assay/lab-duplicates.ts';
import type { LaboratoryResult } from '../assay/lab-duplicates.ts';
import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import type { LotFacts } from './records.ts';

type Assay = LotFacts['labAssays'][number];

/** What the laboratories say of one element of a lot, together. */
export interface ElementAssays {
  element: string;
  /** g/t for gold and silver; for the rest the unit of most certificates. */
  unit: AssayUnit;
  /** Each laboratory's mean, in the unit. */
  laboratories: LaboratoryResult[];
  together: CombinedLabAssay;
  findings: Finding[];
}

/** How much of the unit one g/t is, and one percent. */
const perGpt: Record<AssayUnit, number> = { 'g/t': 1, '%': 1e-4 };
const perPercent: Record<AssayUnit, number> = { 'g/t': 1e4, '%': 1 };

function unitOf(element: string, assays: readonly Assay[]): AssayUnit {
  if (element === 'Au' || element === 'Ag') return 'g/t';
  return 2 * assays.filter(({ unit }) => unit === 'percent').length >= assays.length ? '%' : 'g/t';
}

/** The results of one element: duplicates of a laboratory averaged, laboratories combined; null where it was not assayed. */
export function elementAssays(labAssays: readonly Assay[], element: string): ElementAssays | null {
  const own = labAssays.filter((assay) => assay.element === element);
  if (own.length === 0) return null;
  const unit = unitOf(element, own);
  const assays = own.map((assay) => {
    const factor = (assay.unit === 'percent' ? perPercent : perGpt)[unit];
    const u = assay.standardUncertainty;
    return {
      laboratory: assay.laboratory,
      value: factor * Number(assay.value),
      u: u === null ? null : factor * Number(u),
    };
  });
  const { results, findings } = averageDuplicates({ element, unit, assays });
  const together = combineLabAssays({ element, unit, assays: results });
  return { element, unit, laboratories: results, together, findings: [...findings, ...together.findings] };
}

/** The combined assay of an element as a fraction of the dry mass; null where there is none that can be used. */
export function assayedFrac(labAssays: readonly Assay[], element: string): Measured | null {
  const assays = elementAssays(labAssays, element);
  const combined = assays?.together.combined;
  if (!assays || !combined) return null;
  const perUnit = assays.unit === '%' ? 1e-2 : 1e-6;
  return { value: combined.value * perUnit, u: combined.u * perUnit };
}
