import { describe, expect, it } from 'vitest';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { silverToGoldRatioOf } from '../../../api/calc/facts/lab-ratio.ts';
import { assayedFrac } from '../../../api/calc/facts/lot-assays.ts';
import { smeltFromRecord } from '../../../api/calc/facts/smelt-from-record.ts';
import { facts, labAssay, record } from './bench-facts.ts';

const withAssays = (...labAssays: ReturnType<typeof labAssay>[]) => ({
  ...facts,
  lot: { ...facts.lot, labAssays },
});

describe('a recorded test smelt', () => {
  it('counts the lead that a laboratory found in the lot as lead that went in', () => {
    const galena = withAssays(
      labAssay({ element: 'Pb', unit: 'percent', value: '30', standardUncertainty: '0.5' }),
    );
    const { smelt } = smeltFromRecord({ ...record, buttonG: 63 }, galena);
    // 40 g charged and 30 % of 100 g: 70 g; 63 of them came back.
    const worked = workTestSmelt(smelt);
    expect(worked.leadInG?.value).toBeCloseTo(70, 9);
    expect(worked.leadReturnFrac?.value).toBeCloseTo(0.9, 9);
  });

  it('knows of no lead in the sample without such an assay', () => {
    const { smelt } = smeltFromRecord(record, withAssays(labAssay({ element: 'Ag' })));
    expect(smelt.sampleLeadFrac).toBeNull();
  });
});

describe('a lab assay as a fraction', () => {
  it('is the same from percent as from g/t', () => {
    const percent = assayedFrac(
      [labAssay({ element: 'Pb', unit: 'percent', value: '1.5', standardUncertainty: '0.1' })],
      'Pb',
    );
    const gpt = assayedFrac(
      [labAssay({ element: 'Pb', unit: 'g/t', value: '15000', standardUncertainty: '1000' })],
      'Pb',
    );
    expect(percent?.value).toBeCloseTo(gpt?.value ?? NaN, 15);
    expect(percent?.u).toBeCloseTo(gpt?.u ?? NaN, 15);
  });

  it('has the usual uncertainty where the laboratory states none', () => {
    // Horwitz as amended by Thompson (Analyst 125, 2000, 385): 0.02 × c^0.8495 at 100 g/t.
    const assayed = assayedFrac([labAssay({ value: '100' })], 'Au');
    expect(assayed?.u).toBeCloseTo(0.02 * 1e-4 ** 0.8495, 12);
  });
});

describe('the ratio of silver to gold by laboratory', () => {
  const gold = labAssay({ element: 'Au', value: '900', standardUncertainty: '9' });
  const silver = labAssay({ element: 'Ag', value: '2700', standardUncertainty: '54' });

  it('is one over the other, relative uncertainties in quadrature (JCGM 100:2008, 5.1.6)', () => {
    const ratio = silverToGoldRatioOf({ labAssays: [gold, silver] });
    expect(ratio?.value).toBeCloseTo(3, 12);
    expect(ratio?.u).toBeCloseTo(3 * Math.hypot(0.01, 0.02), 12);
  });

  it('keeps to one certificate where it can', () => {
    const later = labAssay({ element: 'Ag', value: '5000', certificate: '2', standardUncertainty: '50' });
    expect(silverToGoldRatioOf({ labAssays: [gold, silver, later] })?.value).toBeCloseTo(3, 12);
    expect(silverToGoldRatioOf({ labAssays: [gold, later] })?.value).toBeCloseTo(5000 / 900, 12);
  });

  it('is not known where one of the two is missing or no gold was found', () => {
    expect(silverToGoldRatioOf({ labAssays: [gold] })).toBeNull();
    expect(silverToGoldRatioOf({ labAssays: [silver] })).toBeNull();
    expect(silverToGoldRatioOf({ labAssays: [{ ...gold, value: '0' }, silver] })).toBeNull();
  });
});
