import { batchNeeds } from '../../api/calc/books/batch-needs.ts';
import type { ChargeSheetRecords } from '../../api/calc/facts/charge-sheet-records.ts';
import { chargeSheetOfRecords } from '../../api/calc/facts/charge-sheet-records.ts';
import type { ChargeSheetReportInput } from '../../reports/model/charge-sheet-input.ts';

// The mill, its lot and its prices are invented.

const supply = (
  id: string,
  kind: ChargeSheetRecords['supplies'][number]['kind'],
  price: string | null,
  more: Partial<ChargeSheetRecords['supplies'][number]> = {},
) => ({
  id,
  name: id,
  kind,
  unit: 'kg' as const,
  crucibleVolumeMl: null,
  cupelLeadCapacityG: null,
  prices: price === null ? [] : [{ effectiveOn: '2026-01-01', price, currency: 'USD' }],
  ...more,
});

export const SUPPLIES = [
  supply('Soda ash', 'reagent', '1.40'),
  supply('Silica', 'reagent', '0.30'),
  supply('Nitre', 'reagent', '3.40'),
  supply('Flour', 'reagent', '1.10'),
  supply('Litharge', 'litharge', '5.80'),
  supply('Lead shot', 'lead', '3.10'),
  supply('Rebar', 'iron', null),
  supply('Propane', 'fuel', '1.90'),
  supply('Crucible', 'crucible', '165', { unit: 'each', crucibleVolumeMl: 25_000 }),
  supply('Cupel', 'cupel', '9', { unit: 'each', cupelLeadCapacityG: 950 }),
];

/** Grams per 100 g by the name of the supply. */
export const recipeOf = (grams: Record<string, string>) =>
  Object.entries(grams).map(([supplyId, gramsPerHundredG]) => ({ supplyId, gramsPerHundredG }));

/** An invented batch of an invented concentrate, the same as in the tests of the calculation. */
export const RECORDS: ChargeSheetRecords = {
  dryMassKg: '62.4',
  lot: {
    minerals: [
      { mineral: 'pyrite', massFrac: '0.6' },
      { mineral: 'quartz', massFrac: '0.4' },
    ],
  },
  treatment: {
    roast: true,
    recipe: recipeOf({ 'Soda ash': '80', Silica: '15', Flour: '7.5', 'Lead shot': '30', Litharge: '10' }),
    chargeSizeKg: 5,
    roastHoursPerCharge: 2.5,
    furnaceHoursPerCharge: 1.5,
    labourHoursPerCharge: 0.7,
    fuelSupplyId: 'Propane',
    fuelPerCharge: 2.2,
    crucibleSupplyId: 'Crucible',
    crucibleLifeCharges: 8,
    cupelSupplyId: 'Cupel',
    roastPanKg: 2,
    leadReturnLowFrac: 0.8,
    leadReturnModeFrac: 0.9,
    leadReturnHighFrac: 0.95,
  },
  supplies: SUPPLIES,
  weighingStepG: '1',
};

/** The input of a report, worked from records with some changed. */
export function chargeSheetInputOf(
  change: Partial<Omit<ChargeSheetRecords, 'treatment'>> & {
    treatment?: Partial<ChargeSheetRecords['treatment']>;
  } = {},
  more: Partial<ChargeSheetReportInput> = {},
): ChargeSheetReportInput {
  const treatment = { ...RECORDS.treatment, ...change.treatment };
  const { input, sheet, findings } = chargeSheetOfRecords({ ...RECORDS, ...change, treatment });
  return {
    batch: { code: 'T-B1', plannedOn: '2026-06-05' },
    lot: { code: 'T-1', description: 'Table concentrate' },
    treatmentName: 'Roast and smelt',
    millName: 'Fernhollow Bench Mill (invented)',
    asOf: '2026-06-08',
    massUnit: 'kg',
    currency: 'USD',
    worked: input,
    sheet,
    findings,
    needs:
      sheet &&
      batchNeeds(sheet, {
        supplies: SUPPLIES,
        used: treatment,
        stock: new Map(),
        on: '2026-06-08',
        currency: 'USD',
      }),
    measuredMatte: null,
    isDemo: true,
    ...more,
  };
}
