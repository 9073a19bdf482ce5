import { describe, expect, it } from 'vitest';
import { adviseRecipe } from '../../../api/calc/smelting/recipe-adviser.ts';
import { inOwnReagents } from '../../../api/calc/smelting/own-reagents.ts';
import type { Reagent } from '../../../api/calc/smelting/reagents.ts';
import { workRecipe } from '../../../api/calc/smelting/recipe-work.ts';

const amount = (reagent: Reagent, gramsPerHundredG: number) => ({
  reagent,
  gramsPerHundredG,
  why: 'Because.',
  source: 'common practice',
});
const own = (...reagents: Reagent[]) => new Set(reagents);

describe('a recipe in the reagents at hand', () => {
  // Molar masses by IUPAC 2021: Na2B4O7·10H2O 381.36, Na2B4O7 201.21; NaHCO3 84.006, Na2CO3 105.988.
  it.each([
    ['anhydrous borax', 'borax', 100, Math.round((100 * 381.36) / 201.21)],
    ['borax', 'anhydrous borax', 100, Math.round((100 * 201.21) / 381.36)],
    ['soda ash', 'sodium bicarbonate', 100, Math.round((100 * 2 * 84.006) / 105.988)],
  ] as const)('takes for %s its equal in %s', (wanted, there, massG, equalG) => {
    const [found] = inOwnReagents([amount(wanted, massG)], own(there));
    expect(found).toMatchObject({ reagent: there, gramsPerHundredG: equalG });
    expect(found?.why).toContain(`instead of ${massG} g of ${wanted}`);
  });

  it('leaves what is at hand, and what nothing at hand can stand for', () => {
    const amounts = [amount('anhydrous borax', 20), amount('nitre', 50)];
    expect(inOwnReagents(amounts, own('anhydrous borax', 'borax'))).toEqual(amounts);
    expect(inOwnReagents(amounts, own('flour'))).toEqual(amounts);
  });

  it('keeps the slag where the proposed recipe has it', () => {
    const minerals = [
      { mineral: 'pyrite', massFrac: 0.6 },
      { mineral: 'quartz', massFrac: 0.4 },
    ] as const;
    const { amounts, work } = adviseRecipe({ minerals, treatment: 'roasted', collector: 'lead' });
    const mine = inOwnReagents(amounts, own('borax', 'sodium bicarbonate', 'silica', 'flour', 'lead'));
    expect(mine.map((one) => one.reagent)).toEqual(expect.arrayContaining(['borax', 'sodium bicarbonate']));
    const reagents = Object.fromEntries(mine.map((one) => [one.reagent, one.gramsPerHundredG]));
    const same = workRecipe({ minerals, lotMassG: 100, reagents, sulfurRoastedFrac: 1 });
    expect(same.silicateDegree).toBeCloseTo(work?.silicateDegree ?? 0, 1);
  });
});
