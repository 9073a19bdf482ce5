import type { Finding } from '../finding.ts';
import { chiSquareUpperTail } from '../statistics/chi-square.ts';
import { mean } from '../statistics/sample.ts';
import { chanceFigure, figure } from './figures.ts';
import { usualAssayUncertainty } from './lab-assay.ts';
import type { AssayUnit, LabAssay } from './lab-assay.ts';

/** One laboratory's results for one element, as one. */
export interface LaboratoryResult extends LabAssay {
  /** How many results it is the mean of. */
  n: number;
}

/** Results that differ by chance no oftener than this are spoken of. */
const significance = 0.05;

/**
 * Averages the results of each laboratory, in the order in which the laboratories come. What a laboratory states is
 * mostly its own bias, the same in every result of it, so the mean keeps the uncertainty of one result (root mean
 * square of those stated; common practice) and never less than the scatter of the results over √n. Results that
 * scatter by more than is stated are said, by chi-square = Σ((x − x̄)/u)² on n − 1 degrees of freedom. A laboratory
 * that states nothing for one of its results has the usual uncertainty there (`usualAssayUncertainty`); one that
 * states nothing at all keeps `null`, unless its scatter is the larger.
 */
export function averageDuplicates({
  element,
  unit,
  assays,
}: {
  element: string;
  unit: AssayUnit;
  assays: readonly LabAssay[];
}): { results: LaboratoryResult[]; findings: Finding[] } {
  const laboratories = [...new Set(assays.map(({ laboratory }) => laboratory))];
  const findings: Finding[] = [];
  const results = laboratories.map((laboratory): LaboratoryResult => {
    const own = assays.filter((assay) => assay.laboratory === laboratory);
    const values = own.map(({ value }) => value);
    const centre = mean(values);
    const n = own.length;
    const us = own.map(({ value, u }) => u ?? usualAssayUncertainty({ value, unit }));
    const stated = own.every(({ u }) => u === null) ? null : Math.hypot(...us) / Math.sqrt(n);
    if (n === 1) return { laboratory, value: centre, u: own[0]?.u ?? null, n };
    const squares = values.reduce((sum, value) => sum + (value - centre) ** 2, 0);
    const scatterOfMean = Math.sqrt(squares / (n - 1) / n);
    const chiSquare = own.reduce((sum, { value }, i) => sum + ((value - centre) / (us[i] ?? 1)) ** 2, 0);
    const p = chiSquareUpperTail({ x: chiSquare, degreesOfFreedom: n - 1 });
    if (p < significance)
      findings.push({
        code: 'duplicates-scatter',
        level: 'warning',
        path: '/assays',
        sentence: `The ${n} results of ${element} by ${laboratory} run from ${figure(Math.min(...values))} to ${figure(Math.max(...values))} ${unit}, further apart than it states (chance alone: ${chanceFigure(p)}); uneven samples, or a slip in one of them.`,
      });
    const usual = stated ?? usualAssayUncertainty({ value: centre, unit });
    return { laboratory, value: centre, u: scatterOfMean > usual ? scatterOfMean : stated, n };
  });
  return { results, findings };
}
