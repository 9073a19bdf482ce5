import { refinerTerms, smelterTerms, traderTerms } from '../../../api/demo/invented-terms.ts';
import type {
  DecisionFacts,
  SupplyFacts,
  TermsFacts,
  TreatmentFacts,
} from '../../../api/calc/facts/records.ts';
import { noCorrection } from './bench-facts.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';

const supply = (
  id: string,
  kind: SupplyFacts['kind'],
  unit: SupplyFacts['unit'],
  price: string,
): SupplyFacts => ({
  id,
  name: id,
  kind,
  unit,
  prices: [{ effectiveOn: '2026-01-01', price, currency: 'USD' }],
});

const treatment = (id: string, name: string, parts: Partial<TreatmentFacts> = {}): TreatmentFacts => ({
  id,
  name,
  roast: false,
  recipe: [
    { supplyId: 'soda', gramsPerHundredG: '60' },
    { supplyId: 'lead', gramsPerHundredG: '30' },
    { supplyId: 'litharge', gramsPerHundredG: '20' },
  ],
  chargeSizeKg: 20,
  furnaceHoursPerCharge: 1.5,
  labourHoursPerCharge: 2,
  labourSupplyId: 'wage',
  fuelSupplyId: 'propane',
  fuelPerCharge: 6,
  crucibleSupplyId: 'crucible',
  crucibleLifeCharges: 8,
  leadReturnLowFrac: 0.8,
  leadReturnModeFrac: 0.9,
  leadReturnHighFrac: 0.95,
  goldRecoveryMeanFrac: 0.8,
  goldRecoverySdFrac: 0.05,
  silverRecoveryMeanFrac: 0.8,
  silverRecoverySdFrac: 0.05,
  doreFinenessFrac: 0.95,
  wasteCostPerKg: '0.1',
  daysUntilBar: 10,
  retired: false,
  ...parts,
});

const terms = (id: string, counterpartyName: string, body: Terms): TermsFacts => ({
  id,
  name: body.title,
  counterpartyName,
  body,
});

/** An invented lot known by its lab assays, two treatments, a refiner and two buyers of concentrate. */
export function inventedFacts(parts: Partial<DecisionFacts> = {}): DecisionFacts {
  const assay = (element: string, unit: 'g/t' | 'percent', value: string) => ({
    id: element,
    laboratory: 'Invented laboratory',
    certificate: 'X-1',
    element,
    unit,
    value,
    standardUncertainty: null,
    sampleMassG: null,
  });
  return {
    on: '2026-06-05',
    currency: 'USD',
    lot: {
      id: 'lot',
      code: 'T-1',
      moistureFrac: '0.08',
      dryMassKg: '500',
      minerals: [],
      labAssays: [assay('Au', 'g/t', '700'), assay('Ag', 'g/t', '2500'), assay('As', 'percent', '0.4')],
      sampling: null,
    },
    trials: [],
    balances: [],
    cupellation: noCorrection,
    history: [],
    supplies: [
      supply('soda', 'reagent', 'kg', '1.4'),
      supply('lead', 'lead', 'kg', '3'),
      supply('litharge', 'litharge', 'kg', '5'),
      supply('propane', 'fuel', 'kg', '2'),
      supply('crucible', 'crucible', 'each', '90'),
      supply('wage', 'labour', 'h', '25'),
    ],
    treatments: [
      treatment('raw', 'Smelt raw'),
      treatment('roast', 'Roast and smelt', {
        roast: true,
        goldRecoveryMeanFrac: 0.96,
        goldRecoverySdFrac: 0.02,
        silverRecoveryMeanFrac: 0.94,
        labourHoursPerCharge: 3,
        fuelPerCharge: 9,
      }),
    ],
    terms: [
      terms('smelter', 'Invented Smelter', smelterTerms),
      terms('trader', 'Invented Trader', traderTerms),
      terms('refiner', 'Invented Refiner', refinerTerms),
    ],
    latestQuotations: [
      { metal: 'Au', quotedOn: '2026-06-05', price: '2400', currency: 'USD', unit: 'ozt' },
      { metal: 'Ag', quotedOn: '2026-06-05', price: '30', currency: 'USD', unit: 'ozt' },
    ],
    priceHistory: [],
    ...parts,
  };
}
