import { usualAssayUncertainty } from '../assay/lab-assay.ts';
import type { Measured } from '../measured.ts';
import { quotient } from '../measured.ts';
import type { LotFacts } from './records.ts';

type Assay = LotFacts['labAssays'][number];

/** A lab assay as a fraction of the dry mass; where the laboratory states no uncertainty, the usual one. */
export function labFraction(assay: Pick<Assay, 'unit' | 'value' | 'standardUncertainty'>): Measured {
  const unit = assay.unit === 'percent' ? '%' : 'g/t';
  const perUnit = unit === '%' ? 1e-2 : 1e-6;
  const value = Number(assay.value);
  const u =
    assay.standardUncertainty === null
      ? usualAssayUncertainty({ value, unit })
      : Number(assay.standardUncertainty);
  return { value: value * perUnit, u: u * perUnit };
}

/**
 * Mass of silver over mass of gold in a lot by laboratory, the last certificate that has both counting, else the
 * last assay of each; u by the law of propagation (JCGM 100:2008, 5.1.2), the two assays taken as independent.
 * Null where one of the two is missing or no gold was found.
 */
export function silverToGoldRatioOf(lot: Pick<LotFacts, 'labAssays'>): Measured | null {
  const of = (element: string): Assay[] => lot.labAssays.filter((assay) => assay.element === element);
  const same = (a: Assay, b: Assay): boolean =>
    a.laboratory === b.laboratory && a.certificate === b.certificate;
  const silver = of('Ag');
  const gold = of('Au').findLast((assay) => silver.some((other) => same(assay, other))) ?? of('Au').at(-1);
  const partner =
    gold === undefined ? undefined : (silver.findLast((other) => same(gold, other)) ?? silver.at(-1));
  if (gold === undefined || partner === undefined) return null;
  const goldFrac = labFraction(gold);
  return goldFrac.value > 0 ? quotient(labFraction(partner), goldFrac) : null;
}
