/**
 * The invented season: place, people and companies do not exist. Weighings are
 * what a coarse sample balance and a milligram balance would have shown for
 * lots of the stated character.
 */

export const SEASON = { name: '2026 (invented)', startsOn: '2026-05-01', endsOn: '2026-12-31' };

export const BALANCES = [
  { name: 'Bench balance 0.01 g', readabilityG: '0.01', repeatabilityG: '0.01' },
  {
    name: 'Bead balance 0.001 g',
    readabilityG: '0.001',
    repeatabilityG: '0.001',
    repeatabilityFrom: 'checks',
  },
] as const;

/** Check weights as nominal mass and reading, repeat weighings as readings alone, g. */
export const BALANCE_CHECKS = [
  {
    balance: 'Bench balance 0.01 g',
    checkedOn: '2026-06-15',
    readings: [
      [20, 20],
      [50, 50.01],
      [100, 100],
    ],
    remarks: 'Levelled and calibrated before the first test of the season.',
  },
  {
    balance: 'Bench balance 0.01 g',
    checkedOn: '2026-08-01',
    readings: [
      [20, 20],
      [50, 50],
      [100, 100.01],
    ],
    remarks: '',
  },
  {
    balance: 'Bench balance 0.01 g',
    checkedOn: '2026-09-12',
    readings: [
      [20, 20.18],
      [50, 50.45],
      [100, 100.91],
    ],
    remarks: 'Bumped while the bench was moved; to be calibrated.',
  },
  {
    balance: 'Bead balance 0.001 g',
    checkedOn: '2026-06-15',
    readings: [
      [0.05, 0.05],
      [0.2, 0.2],
      [0.5, 0.5],
      [1, 1.001],
    ],
    remarks: '',
  },
  {
    balance: 'Bead balance 0.001 g',
    checkedOn: '2026-06-16',
    readings: [0.2, 0.201, 0.2, 0.2, 0.201, 0.2, 0.199, 0.2, 0.2, 0.201],
    remarks: 'The 0.2 g check weight, taken off in between.',
  },
] as const;

export const SUPPLIES = [
  { name: 'Soda ash', kind: 'reagent', unit: 'kg', price: '1.35' },
  { name: 'Borax', kind: 'reagent', unit: 'kg', price: '2.10' },
  { name: 'Silica sand', kind: 'reagent', unit: 'kg', price: '0.30' },
  { name: 'Nitre', kind: 'reagent', unit: 'kg', price: '3.40' },
  { name: 'Flour', kind: 'reagent', unit: 'kg', price: '1.10' },
  { name: 'Litharge', kind: 'litharge', unit: 'kg', price: '5.80' },
  { name: 'Collector lead', kind: 'lead', unit: 'kg', price: '3.10' },
  { name: 'Iron scrap', kind: 'iron', unit: 'kg', price: '0.25' },
  { name: 'Propane', kind: 'fuel', unit: 'kg', price: '1.90' },
  { name: 'Diesel', kind: 'fuel', unit: 'L', price: '1.25' },
  {
    name: 'Clay graphite crucible, 35 L',
    kind: 'crucible',
    unit: 'each',
    price: '165',
    crucibleVolumeMl: 35_000,
  },
  { name: 'Bone ash cupel, 1.2 kg', kind: 'cupel', unit: 'each', price: '2.40', cupelLeadCapacityG: 1200 },
  { name: 'Helper', kind: 'labour', unit: 'h', price: '26' },
] as const;

const common = {
  chargeSizeKg: 12,
  labourSupply: 'Helper',
  fuelSupply: 'Propane',
  crucibleSupply: 'Clay graphite crucible, 35 L',
  cupelSupply: 'Bone ash cupel, 1.2 kg',
  roastPanKg: null,
  wasteCostPerKg: '0.15',
  daysUntilBar: 12,
};

export const TREATMENTS = [
  {
    ...common,
    name: 'Smelt raw with iron',
    description: 'As it is, basic charge with iron scrap; some matte to be expected.',
    roast: false,
    recipe: { 'Soda ash': '60', Borax: '20', 'Silica sand': '8', 'Collector lead': '40', 'Iron scrap': '25' },
    roastHoursPerCharge: 0,
    furnaceHoursPerCharge: 1.6,
    labourHoursPerCharge: 1.4,
    fuelPerCharge: 6.4,
    crucibleLifeCharges: 9,
    leadReturn: [0.72, 0.82, 0.9],
    gold: [0.82, 0.07],
    silver: [0.76, 0.08],
    doreFinenessFrac: 0.93,
  },
  {
    ...common,
    name: 'Smelt with nitre',
    description: 'Oxidizing charge: nitre burns the sulfur off in the crucible. It boils: charge low.',
    roast: false,
    recipe: { 'Soda ash': '45', Borax: '25', 'Silica sand': '20', Nitre: '150', Litharge: '80' },
    chargeSizeKg: 5,
    roastHoursPerCharge: 0,
    furnaceHoursPerCharge: 1.5,
    labourHoursPerCharge: 1.5,
    fuelPerCharge: 4.9,
    crucibleLifeCharges: 6,
    leadReturn: [0.7, 0.8, 0.9],
    gold: [0.9, 0.05],
    silver: [0.86, 0.06],
    doreFinenessFrac: 0.95,
  },
  {
    ...common,
    name: 'Dead roast, then smelt',
    description: 'Roasted dull until it no longer smokes, then smelted with borax and litharge.',
    roast: true,
    recipe: { 'Soda ash': '40', Borax: '30', 'Silica sand': '18', Litharge: '45', Flour: '9' },
    roastPanKg: 4,
    roastHoursPerCharge: 3,
    furnaceHoursPerCharge: 1.3,
    labourHoursPerCharge: 2.3,
    fuelPerCharge: 9.5,
    crucibleLifeCharges: 10,
    leadReturn: [0.85, 0.92, 0.97],
    gold: [0.95, 0.03],
    silver: [0.92, 0.04],
    doreFinenessFrac: 0.96,
  },
  {
    ...common,
    name: 'Half roast, smelt with iron',
    description: 'Roasted for an hour only, then smelted with iron: less fume, less fuel.',
    roast: true,
    recipe: {
      'Soda ash': '50',
      Borax: '25',
      'Silica sand': '14',
      'Collector lead': '40',
      'Iron scrap': '12',
    },
    roastPanKg: 4,
    roastHoursPerCharge: 1,
    furnaceHoursPerCharge: 1.4,
    labourHoursPerCharge: 1.7,
    fuelPerCharge: 7.4,
    crucibleLifeCharges: 9,
    leadReturn: [0.76, 0.86, 0.94],
    gold: [0.9, 0.05],
    silver: [0.86, 0.06],
    doreFinenessFrac: 0.94,
  },
] as const;

export const LOTS = [
  {
    code: 'L-01',
    description: 'Table concentrate from the upper bench: pyrite with free gold',
    madeOn: '2026-06-12',
    wetMassKg: '640',
    moistureFrac: '0.085',
    minerals: { pyrite: '0.62', arsenopyrite: '0.02', quartz: '0.2', magnetite: '0.08' },
  },
  {
    code: 'L-02',
    description: 'Sluice and bowl concentrate: galena with silver',
    madeOn: '2026-07-18',
    wetMassKg: '410.5',
    moistureFrac: '0.062',
    minerals: { galena: '0.38', pyrite: '0.2', magnetite: '0.18', quartz: '0.12' },
  },
  {
    code: 'L-03',
    description: 'Middlings tabled again: arsenical',
    madeOn: '2026-09-04',
    wetMassKg: '850',
    moistureFrac: '0.11',
    minerals: { pyrite: '0.4', arsenopyrite: '0.1', quartz: '0.3' },
  },
] as const;

export const LAB_ASSAYS = [
  { lot: 'L-01', element: 'Au', unit: 'g/t', value: '905', standardUncertainty: '22' },
  { lot: 'L-01', element: 'Ag', unit: 'g/t', value: '3080', standardUncertainty: '60' },
  { lot: 'L-01', element: 'As', unit: 'percent', value: '0.94', standardUncertainty: '0.04' },
] as const;

/** How the gold of a lot sits, as panning and a lens showed it. */
export const SAMPLINGS = [
  {
    lot: 'L-01',
    model: 'coarse-gold',
    grainSizeMm: 0.25,
    grainShape: 'nugget',
    goldFrac: 0.85,
    silverWithGold: false,
  },
] as const;

/** Lab assays of what a test left behind, g/t. */
export const PRODUCT_ASSAYS = [
  {
    lot: 'L-01',
    trial: 'Raw with iron',
    sample: '1',
    matteGoldGpt: 640,
    matteSilverGpt: 2500,
    slagGoldGpt: 16,
    slagSilverGpt: 58,
  },
] as const;

/**
 * sample, day, sample g, lead g, iron in and out g, button, matte, slag g, bead and parted gold mg. Reagents
 * are those of the treatment's recipe, weighed to the gram; litharge is given here.
 */
type Weighings = readonly [
  sample: string,
  smeltedOn: string,
  sampleMassG: number,
  roast: readonly [afterG: number, hours: number, tempC: number] | null,
  leadG: number | null,
  lithargeG: number | null,
  iron: readonly [inG: number, outG: number | null] | null,
  buttonG: number | null,
  matteG: number | null,
  slagG: number | null,
  beadMg: number | null,
  partedGoldMg: number | null,
  remarks: string,
];

export const TRIALS: readonly {
  lot: string;
  name: string;
  treatment: string;
  smelts: readonly Weighings[];
}[] = [
  {
    lot: 'L-01',
    name: 'Raw with iron',
    treatment: 'Smelt raw with iron',
    smelts: [
      [
        '1',
        '2026-06-20',
        100,
        null,
        40,
        null,
        [25, 3.4],
        33.61,
        18.9,
        128.4,
        318,
        73,
        'Hard matte on the button.',
      ],
      ['2', '2026-06-20', 100.02, null, 40, null, [25, 4.1], 32.87, 88.1, 99.7, 296, 69, ''],
      ['3', '2026-06-21', 99.98, null, 40, null, [25, 3.8], 34.1, 82.3, 102.6, 322, 76, ''],
    ],
  },
  {
    lot: 'L-01',
    name: 'With nitre',
    treatment: 'Smelt with nitre',
    smelts: [
      ['1', '2026-06-23', 50.01, null, null, 40, null, 29.81, 1.6, 131.2, 174, 41, 'Foamed to the rim.'],
      ['2', '2026-06-23', 50, null, null, 40, null, 30.6, 1.2, 130.7, 180, 44, ''],
    ],
  },
  {
    lot: 'L-01',
    name: 'Dead roast',
    treatment: 'Dead roast, then smelt',
    smelts: [
      [
        '1',
        '2026-06-26',
        100,
        [77.9, 2.5, 520],
        null,
        45,
        null,
        39.2,
        0,
        118.3,
        367,
        85,
        'Stopped smoking after two hours.',
      ],
      ['2', '2026-06-26', 100.01, [78.3, 2.5, 520], null, 45, null, 38.6, 0.4, 117.9, 358, 88, ''],
      ['3', '2026-06-27', 100, [77.5, 3, 530], null, 45, null, 39.4, 0, 119.1, 371, 84, ''],
    ],
  },
  {
    lot: 'L-02',
    name: 'Raw with iron',
    treatment: 'Smelt raw with iron',
    smelts: [
      [
        '1',
        '2026-07-24',
        100,
        null,
        20,
        null,
        [25, 8.8],
        47.2,
        9.4,
        96.5,
        560,
        19,
        'Lead of the sample came too.',
      ],
      ['2', '2026-07-24', 100.01, null, 20, null, [25, 9.3], 46.5, 33.2, 83.1, 548, 20, ''],
    ],
  },
  {
    lot: 'L-02',
    name: 'With nitre',
    treatment: 'Smelt with nitre',
    smelts: [
      ['1', '2026-07-25', 50, null, null, 40, null, 46.9, 0.9, 112.3, 305, null, 'Bead not parted yet.'],
    ],
  },
  {
    lot: 'L-03',
    name: 'Raw with iron',
    treatment: 'Smelt raw with iron',
    smelts: [
      [
        '1',
        '2026-09-10',
        100,
        null,
        40,
        null,
        [25, 2.2],
        31.2,
        27.5,
        121.8,
        86,
        26,
        'Brittle speiss beside the matte.',
      ],
    ],
  },
];

/** A batch with a reason is decided about, and the decision recorded, before it is planned. */
export const BATCHES = [
  {
    code: 'B-01',
    lot: 'L-01',
    treatment: 'Dead roast, then smelt',
    buyer: 'Vellorin Refining (invented)',
    plannedOn: '2026-07-02',
    dryMassKg: '120',
    reason:
      'The dead roast recovered most in our own tests, the bar is paid within a month, and there is room outdoors to roast away from the house.',
  },
  {
    code: 'B-02',
    lot: 'L-01',
    treatment: 'Smelt raw with iron',
    buyer: 'Vellorin Refining (invented)',
    plannedOn: '2026-07-10',
    dryMassKg: '60',
    reason: null,
  },
  {
    code: 'B-03',
    lot: 'L-02',
    treatment: null,
    buyer: 'Brackenmoor Smelting (invented)',
    plannedOn: '2026-08-03',
    dryMassKg: '300',
    reason: null,
  },
  {
    code: 'B-04',
    lot: 'L-01',
    treatment: 'Dead roast, then smelt',
    buyer: 'Vellorin Refining (invented)',
    plannedOn: '2026-10-05',
    dryMassKg: '200',
    reason: null,
  },
] as const;
