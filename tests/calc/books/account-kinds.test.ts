import { describe, expect, it } from 'vitest';
import { accountKindNames, accountKinds } from '../../../api/calc/books/account-kinds.ts';
import { expenseKinds } from '../../../api/schemas/expense.ts';
import { supplyKinds } from '../../../api/schemas/supply.ts';

describe('the kinds of accounts', () => {
  it('are each there once, with a code of their own', () => {
    expect(new Set(accountKindNames).size).toBe(accountKinds.length);
    expect(new Set(accountKinds.map(({ code }) => code)).size).toBe(accountKinds.length);
  });

  it('have one for the stock of every kind of supply that can be bought', () => {
    const stocked = supplyKinds.filter((kind) => kind !== 'labour').map((kind) => `supplies-${kind}`);
    expect(accountKindNames).toEqual(expect.arrayContaining(stocked));
  });

  it('have one for every kind of expense, but those that pay what is due already', () => {
    const pays = ['royalty-paid', 'tax-paid', 'wages-paid'];
    const spent = expenseKinds.filter((kind) => !pays.includes(kind)).map((kind) => `expense-${kind}`);
    expect(accountKindNames).toEqual(expect.arrayContaining(spent));
  });
});
