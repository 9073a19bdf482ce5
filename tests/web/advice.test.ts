import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { reagentNames } from '../../api/calc/smelting/reagents.ts';
import { workRecipe } from '../../api/calc/smelting/recipe-work.ts';
import type { Supply } from '../../api/schemas/supply.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import {
  amountsOf,
  amountText,
  startingAdvice,
  storedAmount,
  wantedOf,
} from '../../web/pages/advice/advice-address.ts';
import { mostConcentrateKg } from '../../web/pages/advice/advice-words.ts';
import { ownReagents } from '../../web/pages/advice/own-reagents.ts';
import { recipeOfText, recipeText } from '../../web/pages/advice/recipe-text.ts';
import { treatmentFromAdvice } from '../../web/pages/treatments/advised-treatment.ts';

const supply = (name: string, kind: Supply['kind'], unit: Supply['unit'] = 'kg'): Supply => ({
  id: `id of ${name}`,
  name,
  kind,
  unit,
  crucibleVolumeMl: null,
  cupelLeadCapacityG: null,
  prices: [],
  version: 1,
});
/** An invented store. */
const supplies = [
  supply('Dense soda ash', 'reagent'),
  supply('Borax crystals', 'reagent'),
  supply('Thinning flux', 'reagent'),
  supply('Lead bars', 'lead'),
  supply('Old rails', 'iron'),
  supply('Propane', 'fuel'),
  supply('Crucible', 'crucible', 'each'),
  supply('Helper', 'labour', 'h'),
];
const comma = { ...plainChoices, decimalComma: true };

describe('the amounts of a proposed recipe in the address', () => {
  it('are as proposed while nothing is typed, and empty once emptied', () => {
    expect(amountText('', 40, plainChoices)).toBe('40');
    expect(amountText('', 0, plainChoices)).toBe('');
    const emptied = storedAmount('', 40, plainChoices);
    expect(amountText(emptied, 40, plainChoices)).toBe('');
    expect(storedAmount('40', 40, plainChoices)).toBe('');
  });

  it('come back as they were typed, whatever that is', () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 0, max: 300 }), (typed, proposedG) => {
        fc.pre(typed !== '-');
        const shown = amountText(storedAmount(typed, proposedG, plainChoices), proposedG, plainChoices);
        expect(shown).toBe(typed);
      }),
    );
  });

  it('are read in the way that the owner writes numbers; what cannot be read is named', () => {
    const proposed = [
      { reagent: 'soda ash' as const, gramsPerHundredG: 60 },
      { reagent: 'lead' as const, gramsPerHundredG: 30 },
    ];
    const values = { ...startingAdvice, lead: '32,5', silica: '0', nitre: '-4', flour: '1.5' };
    const { grams, unread } = amountsOf(values, proposed, comma);
    expect([...grams]).toEqual([
      ['soda ash', '60'],
      ['lead', '32.5'],
    ]);
    expect(unread).toEqual(['nitre', 'flour']);
  });
});

describe('what the adviser is asked', () => {
  it('is read from the fields', () => {
    const values = { ...startingAdvice, way: 'roasted', collector: 'litharge', roasted: '60', power: '-1,5' };
    expect(wantedOf(values, [], comma)).toEqual({
      minerals: [],
      treatment: 'roasted',
      collector: 'litharge',
      buttonLeadG: 30,
      sulfurRoastedFrac: 0.6,
      measuredReducingPower: -1.5,
    });
  });

  it.each([
    [{ button: '' }],
    [{ button: 'much' }],
    [{ button: '0' }],
    [{ roasted: '101' }],
    [{ power: 'x' }],
    [{ power: '200' }],
  ])('is nothing while %j cannot be right', (change) => {
    expect(wantedOf({ ...startingAdvice, ...change }, [], plainChoices)).toBeNull();
  });

  it('takes an unknown way or collector of an address for the plain one', () => {
    const asked = wantedOf({ ...startingAdvice, way: 'nonsense', collector: 'gold' }, [], plainChoices);
    expect(asked).toMatchObject({ treatment: 'as it is', collector: 'lead' });
  });
});

describe('a proposed recipe carried to a new treatment', () => {
  it('comes back from the address as it went in, for any reagents', () => {
    const anyRecipe = fc.uniqueArray(
      fc.tuple(fc.constantFrom(...reagentNames), fc.integer({ min: 1, max: 1_000_000 })),
      { selector: ([reagent]) => reagent },
    );
    fc.assert(
      fc.property(anyRecipe, (recipe) => {
        const grams = new Map(
          recipe.map(([reagent, hundredths]) => [reagent, (hundredths / 100).toFixed(2)]),
        );
        expect(recipeOfText(recipeText(grams))).toEqual([...grams]);
      }),
    );
  });

  it('leaves out of an address what is no reagent with a number', () => {
    expect(recipeOfText('gold 5, soda ash, lead 1e9, silica -3, iron 20')).toEqual([['iron', '20']]);
    expect(recipeOfText('')).toEqual([]);
  });

  it('is made of the supplies of the mill, and names those that are missing', () => {
    const found = treatmentFromAdvice(
      { way: 'iron', lot: 'L-7', recipe: 'soda ash 99, borax 19, silica 4, lead 30, iron 41' },
      supplies,
    );
    expect(found?.missing).toEqual(['4 g of silica']);
    expect(found?.treatment).toMatchObject({
      name: 'Smelt with iron, L-7',
      roast: false,
      recipe: [
        { supplyId: 'id of Dense soda ash', gramsPerHundredG: '99' },
        { supplyId: 'id of Borax crystals', gramsPerHundredG: '19' },
        { supplyId: 'id of Lead bars', gramsPerHundredG: '30' },
        { supplyId: 'id of Old rails', gramsPerHundredG: '41' },
      ],
      crucibleSupplyId: 'id of Crucible',
      cupelSupplyId: null,
    });
    const roasted = treatmentFromAdvice({ way: 'roasted', lot: '', recipe: 'lead 30' }, supplies);
    expect(roasted?.treatment).toMatchObject({ roast: true, name: 'Roast, then smelt' });
  });

  it('is nothing without a recipe or a way', () => {
    expect(treatmentFromAdvice({ way: 'iron', lot: '', recipe: '' }, supplies)).toBeNull();
    expect(treatmentFromAdvice({ way: 'by magic', lot: '', recipe: 'lead 30' }, supplies)).toBeNull();
  });
});

describe('the supplies of a mill as reagents', () => {
  it('are known by what they are or are called', () => {
    expect([...ownReagents(supplies)].map(([reagent, { name }]) => [reagent, name])).toEqual([
      ['soda ash', 'Dense soda ash'],
      ['borax', 'Borax crystals'],
      ['lead', 'Lead bars'],
      ['iron', 'Old rails'],
    ]);
  });
});

describe('the room in a crucible', () => {
  // Common practice: at most two thirds full before the melt.
  it('is filled to two thirds by the most concentrate that goes in', () => {
    const minerals = [{ mineral: 'pyrite', massFrac: 1 }] as const;
    const per100 = { lead: 30, 'soda ash': 60 };
    const work = workRecipe({ minerals, lotMassG: 100, reagents: per100, sulfurRoastedFrac: 0 });
    const kg = mostConcentrateKg(work, 20_000);
    const full = workRecipe({
      minerals,
      lotMassG: kg * 1000,
      reagents: { lead: 300 * kg, 'soda ash': 600 * kg },
      sulfurRoastedFrac: 0,
      crucibleVolumeMl: 20_000,
    });
    expect(full.volume.fillFrac).toBeCloseTo(2 / 3, 9);
  });
});
