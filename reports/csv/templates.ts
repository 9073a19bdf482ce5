import { writeCsv } from './write-csv.ts';

export type TemplateKind = 'lots' | 'test-smelts' | 'quotations' | 'days' | 'purchases';

const LOT_COLUMNS = [
  'code',
  'description',
  'made_on',
  'wet_mass_kg',
  'moisture_percent',
  'pyrite_percent',
  'arsenopyrite_percent',
  'galena_percent',
  'remarks',
];

const TEST_SMELT_COLUMNS = [
  'lot',
  'trial',
  'treatment',
  'sample',
  'smelted_on',
  'sample_mass_g',
  'roasted',
  'mass_before_roast_g',
  'mass_after_roast_g',
  'roast_hours',
  'roast_temp_c',
  'collector_lead_g',
  'button_g',
  'matte_g',
  'slag_g',
  'bead_mg',
  'parted_gold_mg',
  'inquart_silver_mg',
  'matte_gold_gpt',
  'matte_silver_gpt',
  'iron_in_g',
  'iron_out_g',
  'balance',
  'bead_balance',
  'remarks',
];

const QUOTATION_COLUMNS = ['metal', 'quoted_on', 'price', 'currency', 'unit', 'source'];

const DAY_COLUMNS = [
  'day',
  'feed_quantity',
  'feed_unit',
  'feed_tonnes_per_unit',
  'feed_moisture_percent',
  'feed_gold_gpt',
  'feed_silver_gpt',
  'tailings_gold_gpt',
  'tailings_silver_gpt',
  'concentrate_wet_kg',
  'concentrate_moisture_percent',
  'hours_run',
  'people',
  'wage',
  'remarks',
];

const PURCHASE_COLUMNS = [
  'supply',
  'bought_on',
  'quantity',
  'amount',
  'currency',
  'supplier',
  'document',
  'paid_on',
  'remarks',
];

/** Columns that every file of a kind has; a file of test smelts has one more for each reagent. */
export const TEMPLATE_COLUMNS: Record<TemplateKind, readonly string[]> = {
  lots: LOT_COLUMNS,
  'test-smelts': TEST_SMELT_COLUMNS,
  quotations: QUOTATION_COLUMNS,
  days: DAY_COLUMNS,
  purchases: PURCHASE_COLUMNS,
};

/** The column of a reagent's mass: `reagent:Borax_g`. */
export function reagentColumn(reagentName: string): string {
  return `reagent:${reagentName}_g`;
}

/** The name of the reagent whose column it is; null for any other column. */
export function reagentOfColumn(column: string): string | null {
  return /^reagent:(.+)_g$/.exec(column)?.[1] ?? null;
}

type Example = Record<string, string>;

/** Two invented rows for each kind: they show how cells are written, and are taken out before use. */
const EXAMPLES: Record<TemplateKind, [Example, Example]> = {
  lots: [
    {
      code: 'EXAMPLE-1',
      description: 'Invented example: table concentrate, upper bench',
      made_on: '2026-06-02',
      wet_mass_kg: '182.5',
      moisture_percent: '7.2',
      pyrite_percent: '58',
      arsenopyrite_percent: '4',
      galena_percent: '2.5',
      remarks: 'Take this row out before use',
    },
    {
      code: 'EXAMPLE-2',
      description: 'Invented example: bowl concentrate; what is not known is left empty',
      made_on: '2026-06-09',
      wet_mass_kg: '41.30',
      moisture_percent: '5.0',
      remarks: 'Take this row out before use',
    },
  ],
  'test-smelts': [
    {
      lot: 'EXAMPLE-1',
      trial: 'Roasted first',
      sample: 'R1',
      smelted_on: '2026-06-12',
      sample_mass_g: '50.00',
      roasted: 'yes',
      mass_before_roast_g: '50.00',
      mass_after_roast_g: '36.85',
      roast_hours: '2.5',
      roast_temp_c: '520',
      collector_lead_g: '45.00',
      button_g: '41.62',
      matte_g: '0',
      slag_g: '98.4',
      bead_mg: '7.85',
      parted_gold_mg: '1.12',
      balance: 'Bench scale',
      bead_balance: 'Bead scale',
      remarks: 'Invented example',
    },
    {
      lot: 'EXAMPLE-1',
      trial: 'With iron',
      sample: 'F1',
      smelted_on: '2026-06-13',
      sample_mass_g: '50.00',
      roasted: 'no',
      collector_lead_g: '45.00',
      button_g: '38.10',
      matte_g: '11.70',
      matte_gold_gpt: '14.5',
      matte_silver_gpt: '210',
      slag_g: '104.2',
      bead_mg: '6.91',
      iron_in_g: '20.00',
      iron_out_g: '8.35',
      balance: 'Bench scale',
      bead_balance: 'Bead scale',
      remarks: 'Invented example; bead not parted',
    },
  ],
  quotations: [
    {
      metal: 'Au',
      quoted_on: '2026-06-12',
      price: '2500.00',
      currency: 'USD',
      unit: 'ozt',
      source: 'Invented example',
    },
    {
      metal: 'Ag',
      quoted_on: '2026-06-12',
      price: '30.00',
      currency: 'USD',
      unit: 'ozt',
      source: 'Invented example',
    },
  ],
  days: [
    {
      day: '2026-06-02',
      feed_quantity: '5',
      feed_unit: 'loader',
      feed_tonnes_per_unit: '0.6',
      feed_moisture_percent: '6',
      feed_gold_gpt: '7.1',
      tailings_gold_gpt: '1.4',
      concentrate_wet_kg: '21.5',
      concentrate_moisture_percent: '10',
      hours_run: '7.5',
      people: 'First helper 8; Second helper 4',
      wage: 'Helper',
      remarks: 'Invented example: take this row out before use',
    },
    {
      day: '2026-06-03',
      feed_quantity: '2.5',
      feed_unit: 't',
      feed_tonnes_per_unit: '1',
      feed_moisture_percent: '6',
      remarks: 'Invented example; what was not weighed is left empty',
    },
  ],
  purchases: [
    {
      supply: 'Borax',
      bought_on: '2026-06-04',
      quantity: '50',
      amount: '105.00',
      currency: 'USD',
      supplier: 'Assay supplies (invented)',
      document: 'Bill 1042',
      paid_on: '2026-06-10',
      remarks: 'Invented example: take this row out before use',
    },
    {
      supply: 'Propane',
      bought_on: '2026-06-05',
      quantity: '45',
      amount: '85.50',
      currency: 'USD',
      supplier: 'Gas depot (invented)',
      document: 'Bill 77',
      remarks: 'Invented example; not paid yet: the day of paying is left empty',
    },
  ],
};

/**
 * An empty file to fill in and read back: the columns of its kind and two
 * invented rows that show how they are written. Dates by ISO 8601, decimal
 * points, no grouping; an empty cell is 'not weighed' or 'not known'. For test
 * smelts the mill's reagents get a column each, in front of the remarks.
 */
export function csvTemplate(
  kind: TemplateKind,
  options: { reagentNames?: readonly string[]; byteOrderMark?: boolean } = {},
): string {
  const reagents = kind === 'test-smelts' ? (options.reagentNames ?? []).map(reagentColumn) : [];
  const columns = TEMPLATE_COLUMNS[kind];
  const header = [...columns.slice(0, -1), ...reagents, ...columns.slice(-1)];
  return writeCsv({
    header,
    rows: EXAMPLES[kind].map((example) => header.map((column) => example[column] ?? '')),
    byteOrderMark: options.byteOrderMark ?? false,
  });
}
