import { describe, expect, it } from 'vitest';
import { chargeSheetInput, chargeSheetOfRecords } from '../../../api/calc/facts/charge-sheet-records.ts';
import { recipeChanges } from '../../../api/calc/facts/recipe-changes.ts';
import { RECORDS, recipeOf, SUPPLIES } from '../../reports/charge-sheet-fixture.ts';

describe('a charge sheet from the books', () => {
  it('takes the crucible, the cupel and the fuel that the treatment names', () => {
    const { input, findings } = chargeSheetInput(RECORDS);
    expect(findings).toEqual([]);
    expect(input.crucible).toEqual({ name: 'Crucible', volumeMl: 25_000 });
    expect(input.cupel).toEqual({ name: 'Cupel', leadCapacityG: 950 });
    expect(input.fuel).toEqual({ name: 'Propane', unit: 'kg' });
    expect(input.minerals).toContainEqual({ mineral: 'pyrite', massFrac: 0.6 });
    expect(input.treatment.recipe.map(({ kind }) => kind)).toEqual([
      'reagent',
      'reagent',
      'reagent',
      'lead',
      'litharge',
    ]);
  });

  it('says that cupels are not counted where what one takes up is not known', () => {
    const supplies = SUPPLIES.map((supply) => ({ ...supply, cupelLeadCapacityG: null }));
    const { sheet, findings } = chargeSheetOfRecords({ ...RECORDS, supplies });
    expect(sheet?.cupels).toBeNull();
    expect(findings.map(({ code }) => code)).toContain('cupel-missing');
  });

  it('says that the crucible could not be looked at where its volume is not known', () => {
    const supplies = SUPPLIES.map((supply) => ({ ...supply, crucibleVolumeMl: null }));
    const { findings } = chargeSheetOfRecords({ ...RECORDS, supplies });
    expect(findings.find(({ code }) => code === 'crucible-volume-missing')?.sentence).toMatch(
      /crucible of at least [\d.]+ L,/,
    );
  });

  it('makes no sheet of a recipe that names a supply which is gone', () => {
    const recipe = recipeOf({ 'Soda ash': '80', Gone: '5' });
    const { sheet, findings } = chargeSheetOfRecords({
      ...RECORDS,
      treatment: { ...RECORDS.treatment, recipe },
    });
    expect(sheet).toBeNull();
    expect(findings).toEqual([
      expect.objectContaining({ level: 'blocker', path: '/treatment/recipe/1/supplyId' }),
    ]);
  });
});

describe('a treatment that was changed since a batch was planned', () => {
  const before = RECORDS.treatment;

  it('is said with what it was and what it is', () => {
    const now = {
      roast: false,
      chargeSizeKg: 6,
      recipe: recipeOf({ 'Soda ash': '75', Silica: '15.0', Nitre: '3', 'Lead shot': '30', Litharge: '10' }),
    };
    const [change, ...others] = recipeChanges(before, now, SUPPLIES);
    expect(others).toEqual([]);
    expect(change).toMatchObject({ code: 'recipe-changed', level: 'note' });
    expect(change?.sentence).toContain(
      'Soda ash from 80 to 75 g per 100 g; Flour from 7.5 to 0 g per 100 g; Nitre from 0 to 3 g per 100 g; ' +
        'the charge from 5 to 6 kg; the roast left out.',
    );
  });

  it('is not said where only the order or the writing of a number differs', () => {
    const recipe = before.recipe.toReversed().map((line) => ({
      ...line,
      gramsPerHundredG: `${line.gramsPerHundredG}${line.gramsPerHundredG.includes('.') ? '0' : '.0'}`,
    }));
    expect(recipeChanges(before, { ...before, recipe }, SUPPLIES)).toEqual([]);
  });
});
