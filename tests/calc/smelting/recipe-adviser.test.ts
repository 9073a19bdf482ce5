import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AdviceWanted } from '../../../api/calc/smelting/advised-amount.ts';
import { treatmentKinds } from '../../../api/calc/smelting/advised-amount.ts';
import { adviseRecipe } from '../../../api/calc/smelting/recipe-adviser.ts';
import { arbitraryLot } from './arbitrary-lot.ts';

/** Invented concentrates. */
const pyritic: AdviceWanted['minerals'] = [
  { mineral: 'pyrite', massFrac: 0.5 },
  { mineral: 'quartz', massFrac: 0.5 },
];
const galenic: AdviceWanted['minerals'] = [
  { mineral: 'galena', massFrac: 0.6 },
  { mineral: 'pyrite', massFrac: 0.1 },
  { mineral: 'quartz', massFrac: 0.3 },
];

const amountsFor = (wanted: AdviceWanted) =>
  Object.fromEntries(adviseRecipe(wanted).amounts.map((one) => [one.reagent, one.gramsPerHundredG]));
const codesFor = (wanted: AdviceWanted) => adviseRecipe(wanted).findings.map((finding) => finding.code);

describe('recipe adviser', () => {
  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904: 20 g of ore with 50 % pyrite, 20 g of nitre for a
  // button of 30 g; so 100 g with 100 g of nitre for 150 g.
  it('proposes nitre by the reducing power and the wanted button', () => {
    const amounts = amountsFor({
      minerals: pyritic,
      treatment: 'oxidizing',
      collector: 'litharge',
      buttonLeadG: 150,
    });
    expect(amounts.nitre).toBe(100);
    expect(amounts.litharge).toBe(Math.round(150 / 0.92832));
    expect(amounts.flour).toBeUndefined();
  });

  it('goes by a measured reducing power instead of the minerals', () => {
    const amounts = amountsFor({
      minerals: pyritic,
      treatment: 'oxidizing',
      collector: 'litharge',
      measuredReducingPower: 3,
    });
    expect(amounts.nitre).toBe(Math.round((300 - 30) / 4));
  });

  it('burns all sulfides where metallic lead collects, and then expects no matte', () => {
    const wanted: AdviceWanted = { minerals: pyritic, treatment: 'oxidizing', collector: 'lead' };
    expect(amountsFor(wanted).nitre).toBe(Math.round(550 / 4));
    expect(adviseRecipe(wanted).work?.matte.matteG.value).toBeLessThan(1);
    expect(codesFor(wanted)).toContain('nitre-above-sample');
  });

  it('gives a calcine flour for its iron oxide and for the button', () => {
    const amounts = amountsFor({ minerals: pyritic, treatment: 'roasted', collector: 'litharge' });
    // 50 g of pyrite give 33.28 g of Fe2O3, which takes up 1.2975 g of lead per gram (IUPAC 2021 weights).
    expect(amounts.flour).toBe(Math.round((30 + 33.28 * 1.2975) / 11.2));
    expect(amounts.nitre).toBeUndefined();
  });

  it('proposes iron for galena, a quarter over, with the lead set free on top of the collector', () => {
    const { amounts, work } = adviseRecipe({ minerals: galenic, treatment: 'iron', collector: 'lead' });
    const iron = amounts.find((one) => one.reagent === 'iron');
    expect(iron?.gramsPerHundredG).toBe(Math.round((60 * 0.2334 + 10 * 0.4655) * 1.25));
    expect(work?.ironNeededG).toBeCloseTo(60 * 0.2334 + 10 * 0.4655, 1);
  });

  it('adds the lead that matte will take to the lead that collects', () => {
    // 50 g of pyrite keep 13.36 g of sulfur on heating: matte at 27.5 % S with 15 % lead.
    const amounts = amountsFor({ minerals: pyritic, treatment: 'as it is', collector: 'lead' });
    expect(amounts.lead).toBe(Math.round(30 + (13.36 / 0.275) * 0.15));
  });

  it('warns of the matte of a raw smelt, and of arsenic in a roast', () => {
    expect(codesFor({ minerals: pyritic, treatment: 'as it is', collector: 'lead' })).toContain(
      'too-much-matte',
    );
    const arsenical: AdviceWanted['minerals'] = [
      { mineral: 'arsenopyrite', massFrac: 0.2 },
      { mineral: 'quartz', massFrac: 0.8 },
    ];
    const advice = adviseRecipe({ minerals: arsenical, treatment: 'roasted', collector: 'lead' });
    expect(advice.findings.find((finding) => finding.code === 'arsenic-in-roast')?.sentence).toContain(
      'holds 9.2 % arsenic',
    );
  });

  it('proposes nothing without minerals and says why', () => {
    const advice = adviseRecipe({ minerals: [], treatment: 'roasted', collector: 'lead' });
    expect(advice).toMatchObject({ amounts: [], work: null });
    expect(advice.findings[0]).toMatchObject({ code: 'minerals-missing', level: 'blocker' });
  });

  it('gives a reason with a source for every number, collects, and keeps the slag near its aim', () => {
    const anyWanted = fc.record({
      minerals: arbitraryLot,
      treatment: fc.constantFrom(...treatmentKinds),
      collector: fc.constantFrom('lead' as const, 'litharge' as const),
    });
    fc.assert(
      fc.property(anyWanted, (wanted) => {
        const { amounts, work } = adviseRecipe(wanted);
        for (const amount of amounts) {
          expect(amount.why).toMatch(/\.$/u);
          expect(amount.source).not.toBe('');
          expect(Number.isInteger(amount.gramsPerHundredG)).toBe(true);
          expect(amount.gramsPerHundredG).toBeGreaterThan(0);
        }
        expect(new Set(amounts.map((one) => one.reagent)).size).toBe(amounts.length);
        expect(amounts.some((one) => one.reagent === wanted.collector)).toBe(true);
        expect(work?.silicateDegree).toBeGreaterThan(0.8);
        expect(work?.silicateDegree).toBeLessThan(2.2);
      }),
    );
  });
});
