import type { Measured } from '../measured.ts';
import { quotient } from '../measured.ts';
import { assayedFrac } from './lot-assays.ts';
import type { LotFacts } from './records.ts';

type Assay = LotFacts['labAssays'][number];

/**
 * Mass of silver over mass of gold in a lot by laboratory: the combined assays of both (`elementAssays`), of those
 * certificates that have both, or of all where none has; u by the law of propagation (JCGM 100:2008, 5.1.2), the two
 * taken as independent. Null where one of the two is missing or no gold was found.
 */
export function silverToGoldRatioOf(lot: Pick<LotFacts, 'labAssays'>): Measured | null {
  const has = (element: string, { laboratory, certificate }: Assay): boolean =>
    lot.labAssays.some(
      (one) => one.element === element && one.laboratory === laboratory && one.certificate === certificate,
    );
  const ofBoth = lot.labAssays.filter((assay) => has('Au', assay) && has('Ag', assay));
  const used = ofBoth.length === 0 ? lot.labAssays : ofBoth;
  const gold = assayedFrac(used, 'Au');
  const silver = assayedFrac(used, 'Ag');
  return gold !== null && silver !== null && gold.value > 0 ? quotient(silver, gold) : null;
}
