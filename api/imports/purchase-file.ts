import { closestKnown } from './closest.ts';
import { columnOfField, keyFrom, optional, plain, required, type FileKind } from './file-kind.ts';
import { addDays } from '../calc/calendar.ts';
import type { DatedRate } from '../calc/books/exchange.ts';
import type { NewPurchase } from '../../db/queries/import-purchases.ts';
import { newSupplyPurchase } from '../schemas/supply-stock.ts';
import type { Supply } from '../schemas/supply.ts';

const columns = [
  required('supply'),
  required('bought_on'),
  required('quantity'),
  required('amount'),
  optional('currency'),
  optional('supplier'),
  optional('document'),
  optional('paid_on'),
  optional('remarks'),
];

interface PurchaseSettings {
  /** The mill's; taken where a row names none. */
  currency: string;
  today: string;
  supplies: readonly Pick<Supply, 'id' | 'name' | 'kind'>[];
  rates: readonly Pick<DatedRate, 'currency' | 'ratedOn'>[];
}

/**
 * A file of purchases of supplies, one a row. A row with the same supply, day, bill, quantity and amount as one that is
 * recorded is that one; two such purchases of one day are told apart by their bills.
 */
export function purchaseFile({ currency, today, supplies, rates }: PurchaseSettings): FileKind<NewPurchase> {
  const bought = supplies.filter(({ kind }) => kind !== 'labour');
  const nameOf = new Map(supplies.map(({ id, name }) => [id, name]));
  const hasRate = (of: string, day: string): boolean =>
    of === currency || rates.some((rate) => rate.currency === of && rate.ratedOn <= day);
  return {
    columns,
    keyOf: (row) =>
      keyFrom(row.supplyId, row.boughtOn, row.document, plain(row.quantity), plain(row.amount), row.currency),
    titleOf: (row) => `The purchase of ${nameOf.get(row.supplyId) ?? ''} on ${row.boughtOn}`,
    understand: (reader) => {
      const name = reader.name('supply');
      const isNamed = (one: { name: string }): boolean => one.name.toLowerCase() === name.toLowerCase();
      const supply = bought.find(isNamed);
      if (name !== '' && supply === undefined)
        reader.refuse('supply', () =>
          supplies.some(isNamed)
            ? 'must be a supply that is kept in stock: hours of people are entered with the days'
            : `must be one of the supplies; ${closestKnown(
                name,
                bought.map((one) => one.name),
                'supplies',
              )}`,
        );
      const boughtOn = reader.date('bought_on');
      if (boughtOn != null && boughtOn > addDays(today, 1))
        reader.refuse('bought_on', () => `must not lie after today, ${today}`);
      const paidIn = reader.name('currency') || currency;
      if (boughtOn != null && /^[A-Z]{3}$/.test(paidIn) && !hasRate(paidIn, boughtOn))
        reader.refuse(
          'currency',
          () => `must have an exchange rate on or before ${boughtOn}: enter the rate of ${paidIn} first`,
        );
      return reader.checked(
        newSupplyPurchase,
        {
          supplyId: name === '' ? undefined : (supply?.id ?? ''),
          boughtOn,
          quantity: reader.decimal('quantity'),
          amount: reader.decimal('amount'),
          currency: paidIn,
          supplier: reader.text('supplier'),
          document: reader.text('document'),
          paidOn: reader.date('paid_on'),
          remarks: reader.text('remarks'),
        },
        ([field]) => (field === 'supplyId' ? 'supply' : columnOfField(field)),
      );
    },
    shown: (row) => ({
      supply: nameOf.get(row.supplyId) ?? row.supplyId,
      bought_on: row.boughtOn,
      quantity: plain(row.quantity),
      amount: plain(row.amount),
      currency: row.currency,
      supplier: row.supplier,
      document: row.document,
      paid_on: row.paidOn ?? '',
      remarks: row.remarks,
    }),
  };
}
