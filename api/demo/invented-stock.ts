import type { Enter } from './load-demo-season.ts';

/** What the invented mill bought, counted and spent, and what it had planned. */
const SUPPLIER = 'Tarnbeck Mill Supply (invented)';

const PURCHASES: readonly [
  supply: string,
  boughtOn: string,
  quantity: string,
  amount: string,
  bill: string,
][] = [
  ['Soda ash', '2026-05-20', '150', '202.50', 'T-118'],
  ['Borax', '2026-05-20', '100', '210', 'T-118'],
  ['Silica sand', '2026-05-20', '60', '18', 'T-118'],
  ['Litharge', '2026-05-20', '100', '580', 'T-118'],
  ['Collector lead', '2026-05-20', '50', '155', 'T-118'],
  ['Clay graphite crucible, 35 L', '2026-05-20', '3', '495', 'T-118'],
  ['Bone ash cupel, 1.2 kg', '2026-05-20', '100', '240', 'T-118'],
  ['Propane', '2026-06-29', '200', '380', 'T-131'],
  ['Propane', '2026-08-10', '100', '205', 'T-140'],
  ['Soda ash', '2026-08-10', '100', '144', 'T-140'],
  ['Litharge', '2026-08-10', '50', '305', 'T-140'],
];

/** The last bill of the supplier is not paid yet. */
const UNPAID = 'T-140';

const COUNTS: readonly [supply: string, countedOn: string, quantity: string, remarks: string][] = [
  ['Soda ash', '2026-07-31', '101', 'A bag was torn.'],
  ['Borax', '2026-07-31', '63', ''],
  ['Litharge', '2026-09-30', '96', ''],
  ['Bone ash cupel, 1.2 kg', '2026-09-30', '58', 'Three had cracked in the damp.'],
];

const RENT_MONTHS = ['2026-05', '2026-06', '2026-07', '2026-08', '2026-09', '2026-10'];

const EXPENSES = [
  ...RENT_MONTHS.map((month) => ({
    spentOn: `${month}-01`,
    kind: 'rent',
    amount: '250',
    payee: 'Owner of the upper bench (invented)',
    document: '',
    paidOn: `${month}-01`,
    remarks: '',
  })),
  {
    spentOn: '2026-05-06',
    kind: 'permit',
    amount: '180',
    payee: 'Dunfallow district office (invented)',
    document: 'P-26-077',
    paidOn: '2026-05-06',
    remarks: 'Burning and discharge, for the season.',
  },
  {
    spentOn: '2026-06-30',
    kind: 'assays',
    amount: '96.50',
    payee: 'Pennywhistle Assay Office (invented)',
    document: 'PW-2214',
    paidOn: '2026-07-20',
    remarks: '',
  },
  {
    spentOn: '2026-08-21',
    kind: 'repair',
    amount: '134.20',
    payee: 'Marrowby Ironworks (invented)',
    document: '5521',
    paidOn: null,
    remarks: 'Burner nozzle and a new lid for the furnace.',
  },
];

/** month, dry feed t, dry concentrate kg, treated kg, fixed costs */
const PLAN: readonly [string, string, string, string, string][] = [
  ['2026-05-01', '30', '200', '0', '430'],
  ['2026-06-01', '60', '450', '0', '350'],
  ['2026-07-01', '60', '450', '250', '350'],
  ['2026-08-01', '60', '450', '350', '350'],
  ['2026-09-01', '50', '400', '350', '350'],
  ['2026-10-01', '30', '250', '350', '350'],
  ['2026-11-01', '0', '0', '200', '250'],
  ['2026-12-01', '0', '0', '0', '250'],
];

export async function inventedStock(
  enter: Enter,
  { seasonId, supplies }: { seasonId: string; supplies: Map<string, string> },
): Promise<void> {
  for (const [supply, boughtOn, quantity, amount, bill] of PURCHASES)
    await enter('POST', '/supply-purchases', {
      supplyId: supplies.get(supply),
      boughtOn,
      quantity,
      amount,
      currency: 'USD',
      supplier: SUPPLIER,
      document: bill,
      paidOn: bill === UNPAID ? null : boughtOn,
    });
  for (const [supply, countedOn, quantity, remarks] of COUNTS)
    await enter('POST', '/supply-counts', {
      supplyId: supplies.get(supply),
      countedOn,
      quantity,
      remarks,
    });
  for (const expense of EXPENSES) await enter('POST', '/expenses', { ...expense, currency: 'USD' });
  await enter('PUT', `/budgets/${seasonId}`, {
    furnaceHoursPerDay: '6',
    remarks: 'Furnace in the evening only, when the wind is from the west.',
    months: PLAN.map(([month, feedDryT, concentrateDryKg, treatedDryKg, fixedCosts]) => ({
      month,
      feedDryT,
      concentrateDryKg,
      treatedDryKg,
      fixedCosts,
    })),
    version: 0,
  });
}
