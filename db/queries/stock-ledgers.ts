import type { Kysely } from 'kysely';
import { costsOf, priceOn, type MovementCost } from '../../api/calc/books/batch-cost.ts';
import { stockLedger, type StockLedger, type StockState } from '../../api/calc/books/moving-average.ts';
import type { Finding } from '../../api/calc/finding.ts';
import type { Supply } from '../../api/schemas/supply.ts';
import type { Database } from '../schema.ts';
import { groupBy } from './group-by.ts';
import { listMovements, stockedSupplyIds, type RecordedMovement } from './stock-movements.ts';

/** The stock of each supply at the end of a day, from which ledgers may go on instead of walking all history. */
export interface KeptStates {
  asOf: string;
  /** A supply that is not among them had no stock yet. */
  states: ReadonlyMap<string, StockState>;
}

export interface SupplyLedger extends StockLedger {
  supply: Supply;
  /** The movements behind the entries, by their key. */
  movements: ReadonlyMap<string, RecordedMovement>;
}

/** What ledgers are worked from: the supplies with their prices, and the mill's currency. */
export interface LedgerBooks {
  supplies: readonly Supply[];
  millCurrency: string;
}

/**
 * The ledgers of the supplies that are in stock, one pass over each one's movements; those not asked for and
 * those never bought or counted are left out.
 */
export async function stockLedgers(
  db: Kysely<Database>,
  books: LedgerBooks,
  range: {
    supplyIds?: readonly string[] | undefined;
    from?: KeptStates | undefined;
    upTo?: string | null | undefined;
  } = {},
): Promise<{ ledgers: Map<string, SupplyLedger>; findings: Finding[] }> {
  const { from, upTo = null } = range;
  const stocked = (await stockedSupplyIds(db)).filter((id) => range.supplyIds?.includes(id) ?? true);
  const { movements, findings } = await listMovements(
    db,
    { supplyIds: stocked, after: from?.asOf ?? null, upTo },
    books,
  );
  const bySupply = groupBy(movements, (movement) => movement.supplyId);
  const ledgers = new Map<string, SupplyLedger>();
  for (const supply of books.supplies) {
    if (!stocked.includes(supply.id)) continue;
    const own = bySupply.get(supply.id) ?? [];
    ledgers.set(supply.id, {
      supply,
      movements: new Map(own.map((movement) => [movement.key, movement])),
      ...stockLedger({
        movements: own,
        start: from?.states.get(supply.id) ?? null,
        supply,
        listPriceOn: (day) => priceOn(supply, day),
      }),
    });
  }
  return { ledgers, findings };
}

/** What every use and return cost in a range of days, by the key of its movement: the one source of batch costs. */
export async function movementCosts(
  db: Kysely<Database>,
  books: LedgerBooks,
  range: Parameters<typeof stockLedgers>[2] = {},
): Promise<Map<string, MovementCost>> {
  const { ledgers } = await stockLedgers(db, books, range);
  return new Map([...ledgers.values()].flatMap(costsOf));
}
