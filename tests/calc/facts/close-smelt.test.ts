import { describe, expect, it } from 'vitest';
import { usualAssayUncertainty } from '../../../api/calc/assay/lab-assay.ts';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { closeSmelt } from '../../../api/calc/facts/close-smelt.ts';
import type { SmeltFacts } from '../../../api/calc/facts/smelt-from-record.ts';
import { smeltFromRecord } from '../../../api/calc/facts/smelt-from-record.ts';
import type { TestSmeltFacts } from '../../../api/calc/facts/records.ts';
import { facts, labAssay, record } from './bench-facts.ts';

function worked(changed: Partial<TestSmeltFacts>, changedFacts: SmeltFacts = facts) {
  const smelt = { ...record, matteG: 20, ...changed };
  const result = workTestSmelt(smeltFromRecord(smelt, changedFacts).smelt);
  return { result, closures: closeSmelt(smelt, changedFacts, result) };
}
const assayedLot = (...labAssays: ReturnType<typeof labAssay>[]) => ({
  ...facts,
  lot: { ...facts.lot, labAssays },
});

describe('where the metal of a test smelt went', () => {
  it('is bead, matte and slag against the head assay, by hand', () => {
    const { closures } = worked(
      { matteGoldGpt: 400, slagGoldGpt: 10 },
      assayedLot(labAssay({ value: '900', standardUncertainty: '9' })),
    );
    const [gold] = closures;
    expect(closures).toHaveLength(1);
    // Bead 75 mg; matte 20 g × 400 g/t = 8 mg; slag 120 g × 10 g/t = 1.2 mg; head 100 g × 900 g/t = 90 mg.
    expect(gold?.closure.foundMg.value).toBeCloseTo(84.2, 9);
    expect(gold?.closure.closureFrac?.value).toBeCloseTo(84.2 / 90, 9);
    expect(gold?.closure.recoveryFrac.value).toBeCloseTo(75 / 90, 9);
    expect(gold?.closure.builtUpHeadGpt.value).toBeCloseTo(842, 6);
    // u of what was found (JCGM 100:2008, 5.1.2): gold weighed to √(0.001²/6 + 0.0006²) g; matte by its assay.
    const bead = 1000 * Math.hypot(0.001 / Math.sqrt(6), 0.0006);
    const matte = Math.hypot(
      20e-3 * usualAssayUncertainty({ value: 400, unit: 'g/t' }),
      0.4 * Math.hypot(0.01 / Math.sqrt(6), 0.01),
    );
    const slag = 120e-3 * usualAssayUncertainty({ value: 10, unit: 'g/t' });
    expect(gold?.closure.foundMg.u).toBeCloseTo(Math.hypot(bead, matte, slag), 4);
  });

  it('needs an assay of a product or of the lot, and a parted bead', () => {
    expect(worked({}).closures).toEqual([]);
    expect(worked({ matteGoldGpt: 400, partedGoldMg: null }).closures).toEqual([]);
    expect(worked({ matteGoldGpt: 400 }).closures.map(({ metal }) => metal)).toEqual(['Au']);
    expect(worked({ matteG: 0, matteGoldGpt: 400 }).closures).toEqual([]);
  });

  it('points at the assay that is missing', () => {
    const { closures } = worked({ matteGoldGpt: 400 });
    expect(closures[0]?.findings.map(({ code, path }) => [code, path])).toEqual([
      ['head-assay-missing', '/headGpt'],
      ['product-not-assayed', '/slagGoldGpt'],
    ]);
  });

  it('is said in the matte warning', () => {
    const said = (changed: Partial<TestSmeltFacts>) =>
      worked(changed).result.findings.find(({ code }) => code === 'matte-fell')?.sentence;
    // 8 of 83 mg is 9.64 %; silver 20 g × 1000 g/t = 20 mg of 245 + 20 mg is 7.55 %.
    expect(said({ matteGoldGpt: 400, matteSilverGpt: 1000 })).toMatch(
      /holds 9\.64 ± .* % of the gold and 7\.55 ± .* % of the silver/,
    );
    expect(said({})).toContain('An assay of the matte would tell the rest.');
  });
});
