import { describe, expect, it } from 'vitest';
import type { Supply } from '../../api/schemas/supply.ts';
import type { Treatment } from '../../api/schemas/treatment.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import { byRecipe } from '../../web/pages/batches/actuals-draft.ts';
import { RECORDS, SUPPLIES } from '../reports/charge-sheet-fixture.ts';

const supplies: Supply[] = SUPPLIES.map((supply) => ({ ...supply, version: 1 }));
/** Only what a charge sheet reads is set to anything in particular. */
const treatment: Treatment = {
  ...RECORDS.treatment,
  id: 'treatment',
  name: 'Roast and smelt',
  description: '',
  labourSupplyId: null,
  goldRecoveryMeanFrac: 0.9,
  goldRecoverySdFrac: 0.05,
  silverRecoveryMeanFrac: 0.9,
  silverRecoverySdFrac: 0.05,
  doreFinenessFrac: 0.95,
  wasteCostPerKg: '0',
  daysUntilBar: 10,
  retired: false,
  version: 1,
};
const filled = (change: Partial<Treatment> = {}, choices = plainChoices) =>
  byRecipe(
    { dryMassKg: '62.4' },
    { treatment: { ...treatment, ...change }, supplies, weighingStepG: '1' },
    choices,
  );

describe('what came of a batch, filled in by the recipe', () => {
  // 62.4 kg in 12 charges of 5 kg and one of 2.4 kg, by hand as on its charge sheet.
  it('is what its charge sheet weighs out, with lead by itself', () => {
    expect(filled()).toEqual({
      furnaceHours: '19.5',
      labourHours: '9.1',
      leadInKg: '18.72',
      consumption: [
        { supplyId: 'Soda ash', quantity: '49.92' },
        { supplyId: 'Silica', quantity: '9.36' },
        { supplyId: 'Flour', quantity: '4.68' },
        { supplyId: 'Litharge', quantity: '6.24' },
        { supplyId: 'Propane', quantity: '28.6' },
        { supplyId: 'Crucible', quantity: '2' },
        { supplyId: 'Cupel', quantity: '25' },
      ],
    });
  });

  it('is written as the owner writes numbers, lead in the owner’s unit', () => {
    const found = filled({}, { ...plainChoices, massUnit: 'lb', decimalComma: true });
    // 18.72 / 0.45359237 lb (exact).
    expect(found?.leadInKg).toMatch(/^41,270\d+$/);
    expect(found?.consumption[0]?.quantity).toBe('49,92');
  });

  it('leaves out what the treatment does not name, and is nothing where there is no sheet', () => {
    const bare = filled({ fuelSupplyId: null, crucibleSupplyId: null, cupelSupplyId: null });
    expect(bare?.consumption.map(({ supplyId }) => supplyId)).not.toContain('Propane');
    expect(bare?.consumption).toHaveLength(4);
    expect(filled({ recipe: [{ supplyId: 'Gone', gramsPerHundredG: '5' }] })).toBeNull();
  });
});
