import { expect, it } from 'vitest';
import { ingamellsConstant } from '../../../api/calc/assay/ingamells.ts';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { samplingByReplicates } from '../../../api/calc/facts/sampling-by-replicates.ts';
import { smeltOf } from '../assay/smelt-of.ts';
import type { TestSmeltFacts } from '../../../api/calc/facts/records.ts';

it('takes the sampling constant of a lot from its replicates, but not from tests set aside or unparted', () => {
  const test = (id: string, partedGoldMg: number | null, setAsideReason: string | null = null) => {
    const result = workTestSmelt(smeltOf({ sampleMassG: 100, beadMg: 60, partedGoldMg }));
    return {
      record: { id, sampleMassG: 100 } as TestSmeltFacts,
      worked: { id, sample: id, setAsideReason, result },
    };
  };
  const tests = [test('1', 10), test('2', 11), test('3', 20, 'Spilled'), test('4', null)];
  const of = (metal: 'gold' | 'silver', kept = tests) =>
    samplingByReplicates({
      trials: [{ smelts: kept.map(({ record }) => record) }],
      worked: [{ smelts: kept.map(({ worked }) => worked) }],
      metal,
    });
  expect(of('gold')?.constantG).toBeCloseTo(
    ingamellsConstant([
      [
        { massG: 100, value: 100 },
        { massG: 100, value: 110 },
      ],
    ])!.constantG,
    8,
  );
  expect(of('gold')?.weighingG).toBeGreaterThan(0);
  expect(of('silver')?.degreesOfFreedom).toBe(1);
  expect(of('gold', tests.slice(0, 1))).toBeNull();
});
