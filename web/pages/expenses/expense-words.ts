import type { Expense } from '../../../api/schemas/expense.ts';

export const expenseWords: Record<Expense['kind'], string> = {
  rent: 'Rent',
  repair: 'Repairs',
  permit: 'Permits',
  insurance: 'Insurance',
  power: 'Power and water',
  transport: 'Transport',
  assays: 'Assays',
  fees: 'Fees',
  wages: 'Wages not in batches or days',
  'wages-paid': 'Wages paid for hours in batches and days',
  'royalty-paid': 'Royalties paid',
  'tax-paid': 'Production taxes paid',
  other: 'Other',
};
