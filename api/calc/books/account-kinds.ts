/** A kind of account that the journal books on, with a suggested code and name; the owner's own take their place. */
export interface AccountKind {
  kind: string;
  group: 'Assets' | 'Liabilities' | 'Equity' | 'Sales' | 'Charges of buyers' | 'Costs';
  code: string;
  name: string;
  /** What is booked on it, in plain words. */
  meaning: string;
}

const group = <const Rows extends readonly (readonly [kind: string, name: string, meaning: string])[]>(
  of: AccountKind['group'],
  letter: string,
  rows: Rows,
) =>
  rows.map(([kind, name, meaning], index) => ({
    kind: kind as Rows[number][0],
    group: of,
    code: `${letter}${String(10 * (index + 1)).padStart(3, '0')}`,
    name,
    meaning,
  }));

/**
 * Every kind that the journal needs. The suggested codes are a letter for the group and a number in the order of the
 * list: they follow no country's chart of accounts, so that nobody takes them for one.
 */
export const accountKinds = [
  ...group('Assets', 'A', [
    ['inventory-concentrate', 'Concentrate in stock', 'Concentrate of days and lots, at cost.'],
    ['work-in-progress', 'Work in progress', 'What running batches have taken and cost so far.'],
    ['inventory-bars', 'Bars and beads in stock', 'Finished metal that is not sold yet.'],
    ['inventory-parcels', 'Parcels for sale', 'Concentrate made up for a buyer and not sold yet.'],
    [
      'inventory-by-products',
      'By-products in stock',
      'Matte, slag, lead and buttons, where they are valued.',
    ],
    ['supplies-reagent', 'Reagents in stock', 'At the moving average.'],
    ['supplies-lead', 'Lead in stock', 'At the moving average.'],
    ['supplies-litharge', 'Litharge in stock', 'At the moving average.'],
    ['supplies-iron', 'Iron in stock', 'At the moving average.'],
    ['supplies-fuel', 'Fuel in stock', 'At the moving average.'],
    ['supplies-crucible', 'Crucibles in stock', 'At the moving average.'],
    ['supplies-cupel', 'Cupels in stock', 'At the moving average.'],
    ['supplies-other', 'Other supplies in stock', 'At the moving average.'],
    ['receivable', 'Due from buyers', 'Statements issued and not paid yet.'],
    ['receivable-held-back', 'Held back by buyers', 'What a buyer keeps until later by the contract.'],
    ['cash', 'Cash and bank', 'Money received and paid.'],
    ['recoverable-tax', 'Tax to be paid back', 'Sales or withholding tax that comes back.'],
  ]),
  ...group('Liabilities', 'L', [
    ['payable-suppliers', 'Due to suppliers', 'Purchases and expenses not paid yet.'],
    ['payable-buyers', 'Due to buyers', 'What a later statement says was paid too much.'],
    ['wages-payable', 'Wages due', 'Hours worked in batches and on days, not paid yet.'],
    ['royalties-payable', 'Royalties due', 'Royalties on what was sold, not paid yet.'],
    ['production-tax-payable', 'Production taxes due', 'Taxes on what was sold, not paid yet.'],
    ['sales-tax-payable', 'Sales and withholding taxes due', 'Taxes charged with a statement, not paid yet.'],
    [
      'uninvoiced-supplies',
      'Supplies used without a purchase',
      'Use costed at list prices, until it is bought.',
    ],
  ]),
  ...group('Equity', 'E', [['opening-balance', 'Opening balances', 'What was there when the books began.']]),
  ...group('Sales', 'S', [
    ['sales-gold', 'Sales of gold', 'Payable gold at its first price.'],
    ['sales-silver', 'Sales of silver', 'Payable silver at its first price.'],
    ['sales-other', 'Sales of other metals', 'Whatever else a buyer pays for.'],
    ['adjustment-price', 'Price adjustments', 'What a later statement changes by its prices.'],
    ['adjustment-mass', 'Mass adjustments', 'What a later statement changes by its weights.'],
    ['adjustment-assay', 'Assay adjustments', 'What a later statement changes by its assays.'],
    ['adjustment-other', 'Other adjustments', 'What a later statement changes otherwise.'],
    ['credit', 'Credits of buyers', 'Amounts that a contract adds.'],
    [
      'charges-to-customers',
      'Charges to customers',
      'What the mill charges where it treats or buys other people’s material.',
    ],
  ]),
  ...group('Charges of buyers', 'B', [
    ['treatment-charge', 'Treatment charges', 'For smelting the parcel.'],
    ['refining-charge', 'Refining charges', 'For refining the payable metal.'],
    ['lot-charge', 'Lot charges', 'For each lot or delivery.'],
    ['penalty', 'Penalties', 'For arsenic, moisture and the like.'],
    ['sampling', 'Sampling', 'Weighing and sampling at the buyer’s.'],
    ['assaying', 'Assaying', 'Assays charged with a statement, umpire included.'],
    ['representation', 'Representation', 'Whoever watches weighing and sampling for the mill.'],
    ['freight', 'Freight', 'Carriage of parcels and bars.'],
    ['transit-insurance', 'Insurance in transit', 'Of what is under way.'],
    ['handling', 'Handling', 'Loading, storing, melting.'],
    ['other-charge', 'Other charges', 'Whatever else a statement takes off.'],
    ['interest', 'Interest', 'On advances and late payment.'],
  ]),
  ...group('Costs', 'C', [
    ['cost-of-sales', 'Cost of sales', 'What the metal sold had cost.'],
    ['royalty', 'Royalties', 'On what was sold.'],
    ['production-tax', 'Production taxes', 'On what was sold.'],
    ['waste-disposal', 'Waste disposal', 'Slag, cupels and calcine taken away.'],
    ['write-down', 'Write-downs', 'Inventories brought down to what they will fetch.'],
    ['write-off', 'Write-offs', 'What was lost, spilled or thrown away.'],
    ['stock-difference', 'Stock differences', 'What counts found more or less than the books.'],
    ['metal-difference', 'Rounding and metal differences', 'What is left over by rounding to the cent.'],
    [
      'exchange-difference',
      'Exchange differences',
      'Between the rate of a statement and of its payment, or of the last day.',
    ],
    ['expense-rent', 'Rent', 'Land, buildings, machines.'],
    ['expense-repair', 'Repairs', 'Upkeep of mill and furnace.'],
    ['expense-permit', 'Permits', 'Fees of authorities.'],
    ['expense-insurance', 'Insurance', 'Of the mill.'],
    ['expense-power', 'Power and water', 'Where they are not in stock as fuel.'],
    ['expense-transport', 'Transport', 'Carriage that belongs to no statement.'],
    ['expense-assays', 'Assays', 'Paid to a laboratory.'],
    ['expense-fees', 'Fees', 'Accountant, bank, advice.'],
    ['expense-wages', 'Wages not in batches or days', 'Wages that no batch and no day took.'],
    ['expense-other', 'Other expenses', 'Whatever is left.'],
    ['metal-bought', 'Metal bought', 'What the mill pays by a statement where it buys or treats for others.'],
  ]),
] as const satisfies readonly AccountKind[];

export type AccountKindName = (typeof accountKinds)[number]['kind'];

export const accountKindNames = accountKinds.map(({ kind }) => kind) as [
  AccountKindName,
  ...AccountKindName[],
];
