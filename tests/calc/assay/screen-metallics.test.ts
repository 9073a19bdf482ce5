import { describe, expect, it } from 'vitest';
import { workScreenMetallics } from '../../../api/calc/assay/screen-metallics.ts';
import { ozPerLongTonFromGpt, percentFromGpt } from '../../../api/calc/units.ts';

const exactBalance = { name: 'bench balance', readabilityG: 0, repeatabilityG: 0 };

describe('screen metallics', () => {
  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904 (public domain): 400 g of ore; 1 g of metallics held
  // 0.842 g of silver; of the 399 g that passed, 20 g held 0.105 g: in all 0.7342 %, or 239.84 oz to the long ton.
  it('works Beringer’s ore with metallic silver', () => {
    const { gradeGpt, coarseShareFrac } = workScreenMetallics({
      coarse: { massG: 1, metalMg: { value: 842, u: 0 } },
      fine: { massG: 399, gradesGpt: [{ value: (1000 * 105) / 20, u: 0 }] },
      balance: exactBalance,
    });
    expect(percentFromGpt(gradeGpt?.value ?? 0)).toBeCloseTo(0.7342, 4);
    expect(ozPerLongTonFromGpt(gradeGpt?.value ?? 0)).toBeCloseTo(239.84, 1);
    expect(coarseShareFrac?.value).toBeCloseTo(84.2 / 293.675, 6);
  });

  it('takes the scatter of the fine assays where it is the larger', () => {
    const grade = (values: number[]) =>
      workScreenMetallics({
        coarse: { massG: 0, metalMg: { value: 0, u: 0 } },
        fine: { massG: 500, gradesGpt: values.map((value) => ({ value, u: 1 })) },
        balance: exactBalance,
      }).gradeGpt;
    expect(grade([50, 50])?.u).toBeCloseTo(1 / Math.SQRT2, 12);
    expect(grade([40, 60])?.u).toBeCloseTo(Math.sqrt(200) / Math.SQRT2, 12);
    expect(grade([40, 60])?.value).toBeCloseTo(50, 12);
  });

  it('says when much of the metal is coarse, and when the fine part is missing', () => {
    const much = workScreenMetallics({
      coarse: { massG: 5, metalMg: { value: 20, u: 0.1 } },
      fine: { massG: 495, gradesGpt: [{ value: 20, u: 1 }] },
      balance: exactBalance,
    });
    expect(much.findings.map(({ code }) => code)).toEqual(['much-metal-coarse']);
    const missing = workScreenMetallics({
      coarse: { massG: 5, metalMg: { value: 20, u: 0.1 } },
      fine: { massG: 495, gradesGpt: [] },
      balance: exactBalance,
    });
    expect([missing.gradeGpt, missing.coarseShareFrac]).toEqual([null, null]);
    expect(missing.findings.map(({ code, level }) => [code, level])).toEqual([
      ['fine-part-missing', 'blocker'],
    ]);
  });
});
