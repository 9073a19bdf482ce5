import { usualAssayUncertainty } from '../assay/lab-assay.ts';
import type { LabObservation, Metal } from '../evidence/lot-evidence.ts';
import { METAL_NAMES } from '../evidence/lot-evidence.ts';
import type { Finding } from '../finding.ts';
import { elementAssays } from './lot-assays.ts';
import { samplingError } from './sampling-from-record.ts';
import type { LotFacts } from './records.ts';

/** Samples that one laboratory had, g in all: one for each certificate; null where none is noted. */
export function sampledByLaboratoryG(
  labAssays: LotFacts['labAssays'],
  { laboratory, element }: { laboratory: string; element: string },
): number | null {
  const byCertificate = new Map<string, number>();
  for (const assay of labAssays)
    if (assay.laboratory === laboratory && assay.element === element && assay.sampleMassG !== null)
      byCertificate.set(
        assay.certificate,
        Math.max(assay.sampleMassG, byCertificate.get(assay.certificate) ?? 0),
      );
  return byCertificate.size === 0 ? null : [...byCertificate.values()].reduce((sum, massG) => sum + massG, 0);
}

/**
 * What the laboratories say of a metal of the lot, each once: its duplicates averaged, with u² = its own uncertainty²
 * + the spread between laboratories² (`combineLabAssays`) + the error of taking its sample² (`samplingError`).
 */
export function labObservations(
  lot: LotFacts,
  metal: Metal,
  goldGpt: number | null,
): { observations: LabObservation[]; findings: Finding[] } {
  const assays = elementAssays(lot.labAssays, metal);
  if (assays === null) return { observations: [], findings: [] };
  const findings: Finding[] = [];
  const observations = assays.laboratories.map(({ laboratory, value, u }): LabObservation => {
    const sampleMassG = sampledByLaboratoryG(lot.labAssays, { laboratory, element: metal });
    const sampling = sampleMassG === null ? null : samplingError({ lot, goldGpt, sampleMassG });
    if (lot.sampling !== null && sampleMassG === null && (metal === 'Au' || lot.sampling.silverWithGold))
      findings.push({
        code: 'lab-sample-mass-missing',
        level: 'note',
        path: '/labAssays',
        sentence: `The mass of the sample that ${laboratory} had for ${METAL_NAMES[metal]} is not noted, so the error of taking it is left out of its assay.`,
      });
    const relativeSd = sampling?.[metal === 'Au' ? 'relativeSdGold' : 'relativeSdSilver'] ?? 0;
    return {
      gradeGpt: value,
      uGpt: Math.hypot(
        u ?? usualAssayUncertainty({ value, unit: assays.unit }),
        assays.together.betweenLabSd,
        relativeSd * value,
      ),
      label: laboratory,
    };
  });
  return { observations, findings };
}
