import type { BalanceFacts, CupellationFacts, TestSmeltFacts } from '../../../api/calc/facts/records.ts';
import type { SmeltFacts } from '../../../api/calc/facts/smelt-from-record.ts';

/** A plain test smelt of an invented lot: 100 g with 40 g of lead. */
export const record: TestSmeltFacts = {
  id: 'smelt',
  sample: '1',
  smeltedOn: '2026-06-20',
  sampleMassG: 100,
  roasted: false,
  massBeforeRoastG: null,
  massAfterRoastG: null,
  roastHours: null,
  roastTempC: null,
  reagents: [
    { supplyId: 'soda', massG: 60 },
    { supplyId: 'borax', massG: 20 },
  ],
  collectorLeadG: 40,
  ironInG: null,
  ironOutG: null,
  crucibleVolumeMl: 300,
  buttonG: 34,
  matteG: 0,
  slagG: 120,
  beadMg: 320,
  partedGoldMg: 75,
  inquartSilverMg: null,
  matteGoldGpt: null,
  matteSilverGpt: null,
  slagGoldGpt: null,
  slagSilverGpt: null,
  blankMgPerLeadG: null,
  blankStandardUncertaintyMgPerLeadG: null,
  sampleBalanceId: 'bench',
  beadBalanceId: 'bead',
  setAsideReason: null,
};

type Assay = SmeltFacts['lot']['labAssays'][number];

export const labAssay = (assay: Partial<Assay>): Assay => ({
  id: 'assay',
  laboratory: 'An invented laboratory',
  certificate: '1',
  element: 'Au',
  unit: 'g/t',
  value: '900',
  standardUncertainty: null,
  sampleMassG: null,
  ...assay,
});

export const balance = (fields: Partial<BalanceFacts>): BalanceFacts => ({
  id: 'bench',
  name: 'Bench balance',
  readabilityG: '0.01',
  repeatabilityG: '0.01',
  repeatabilityFrom: 'stated',
  checks: [],
  ...fields,
});

/** Nothing is corrected for in cupelling; what would be stated stands by. */
export const noCorrection: CupellationFacts = {
  correction: 'off',
  goldLossFrac: 0.003,
  goldLossStandardUncertaintyFrac: 0.001,
  silverLossFrac: 0.02,
  silverLossStandardUncertaintyFrac: 0.005,
  proofs: [],
};

export const facts: SmeltFacts = {
  lot: {
    minerals: [
      { mineral: 'pyrite', massFrac: '0.6' },
      { mineral: 'quartz', massFrac: '0.4' },
    ],
    labAssays: [],
    dryMassKg: '500',
    sampling: null,
  },
  samplingGoldGpt: null,
  cupellation: noCorrection,
  balances: [
    balance({ id: 'bench', name: 'Bench balance', readabilityG: '0.01', repeatabilityG: '0.01' }),
    balance({ id: 'bead', name: 'Bead balance', readabilityG: '0.001', repeatabilityG: '0.0006' }),
  ],
  supplies: [
    { id: 'soda', name: 'Soda ash, dense', kind: 'reagent' },
    { id: 'borax', name: 'Borax', kind: 'reagent' },
    { id: 'nitre', name: 'Nitre', kind: 'reagent' },
    { id: 'flour', name: 'Flour', kind: 'reagent' },
    { id: 'powder', name: 'Grey powder of the neighbour', kind: 'reagent' },
    { id: 'litharge', name: 'Yellow lead oxide', kind: 'litharge' },
  ],
};
