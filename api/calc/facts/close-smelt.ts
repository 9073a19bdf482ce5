import { gptUnit } from '../assay/figures.ts';
import type { GradeUnit } from '../assay/figures.ts';
import { closeMetal } from '../assay/metal-closure.ts';
import type { AssayedProduct, MetalClosure } from '../assay/metal-closure.ts';
import { usualAssayUncertainty } from '../assay/lab-assay.ts';
import type { TestSmeltResult } from '../assay/test-smelt.ts';
import { sources } from '../assay/uncertainty-budget.ts';
import type { Metal } from '../evidence/lot-evidence.ts';
import { METAL_NAMES } from '../evidence/lot-evidence.ts';
import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { elementAssays } from './lot-assays.ts';
import { samplingError } from './sampling-from-record.ts';
import { balanceOf, balanceOn } from './balance-from-record.ts';
import type { TestSmeltFacts } from './records.ts';
import type { SmeltFacts } from './smelt-from-record.ts';

/** Where the metals of a test smelt went; null for a metal that cannot be followed. */
export interface SmeltClosure {
  metal: Metal;
  closure: MetalClosure;
  findings: Finding[];
}

const products = [
  { name: 'matte', mass: 'matteG', Au: 'matteGoldGpt', Ag: 'matteSilverGpt' },
  { name: 'slag', mass: 'slagG', Au: 'slagGoldGpt', Ag: 'slagSilverGpt' },
] as const;

/** A lab assay of a product, with the uncertainty usual for such a result. */
export function productGpt(gradeGpt: number | null): Measured | null {
  return gradeGpt === null
    ? null
    : { value: gradeGpt, u: usualAssayUncertainty({ value: gradeGpt, unit: 'g/t' }) };
}

/** Metal of the sample that came into the bead, mg, without the sample's own weighing and the error of taking it. */
function beadMetalMg(record: TestSmeltFacts, result: TestSmeltResult, metal: Metal): Measured | null {
  const grade = metal === 'Au' ? result.goldGpt : result.silverGpt;
  if (grade === null) return null;
  const target = metal === 'Au' ? 'gold' : 'silver';
  const own = result.budget.filter(
    (share) => share.target === target && share.kind !== 'sampling' && share.source !== sources.sample.name,
  );
  const mgPerGpt = record.sampleMassG / 1000;
  return { value: grade.value * mgPerGpt, u: Math.hypot(...own.map(({ uGpt }) => uGpt)) * mgPerGpt };
}

/** What the laboratories find in the lot, with the error of taking this test's sample out of it. */
function headGpt(record: TestSmeltFacts, facts: SmeltFacts, metal: Metal): Measured | null {
  const assayed = elementAssays(facts.lot.labAssays, metal)?.together.combined;
  if (!assayed) return null;
  const sampling = samplingError({
    lot: facts.lot,
    goldGpt: facts.samplingGoldGpt,
    sampleMassG: record.sampleMassG,
  });
  const relativeSd = sampling?.[metal === 'Au' ? 'relativeSdGold' : 'relativeSdSilver'] ?? 0;
  return { value: assayed.value, u: Math.hypot(assayed.u, relativeSd * assayed.value) };
}

/**
 * Where gold and silver of a test smelt went: bead, and matte and slag as far as they were weighed and assayed,
 * against the lab assays of the lot (`closeMetal`). A metal without a bead result, and one of which neither a product
 * nor the lot was assayed, is left out: nothing could be said of it but the bead.
 */
export function closeSmelt(
  record: TestSmeltFacts,
  facts: SmeltFacts,
  result: TestSmeltResult,
  gradeUnit: GradeUnit = gptUnit,
): SmeltClosure[] {
  return (['Au', 'Ag'] as const).flatMap((metal): SmeltClosure[] => {
    const bead = beadMetalMg(record, result, metal);
    const head = headGpt(record, facts, metal);
    const weighed = products.filter(({ mass }) => (record[mass] ?? 0) > 0);
    const assayed = weighed.map(({ name, mass, [metal]: field }): AssayedProduct => ({
      name,
      massG: record[mass] ?? 0,
      gradeGpt: productGpt(record[field]),
    }));
    if (bead === null || (head === null && assayed.every(({ gradeGpt }) => gradeGpt === null))) return [];
    const closure = closeMetal({
      metal: METAL_NAMES[metal],
      sampleMassG: record.sampleMassG,
      sampleBalance: balanceOn(balanceOf(facts.balances, record.sampleBalanceId), record.smeltedOn).balance,
      beadMetalMg: bead,
      products: assayed,
      headGpt: head,
      gradeUnit,
    });
    if (closure === null) return [];
    const pointerOf = (path: string): string => {
      const [, place] = /^\/products\/(\d+)/.exec(path) ?? [];
      const product = place === undefined ? undefined : weighed[Number(place)];
      return product === undefined ? path : `/${product[metal]}`;
    };
    return [
      {
        metal,
        closure,
        findings: closure.findings.map((finding) => ({ ...finding, path: pointerOf(finding.path) })),
      },
    ];
  });
}
