import type { CostLine } from '../../../api/calc/books/batch-cost.ts';
import type {
  BookBatch,
  BookProduct,
  BookRecords,
  BookSupply,
} from '../../../api/calc/books/book-records.ts';
import { stockLedger, type StockMovement } from '../../../api/calc/books/moving-average.ts';
import { sumOf } from '../../../api/calc/money.ts';

export const FLUX: BookSupply = { id: 'flux', name: 'Flux', kind: 'reagent', unit: 'kg', prices: [] };
export const WAGE: BookSupply = { id: 'wage', name: 'Helper', kind: 'labour', unit: 'h', prices: [] };

/** Books of an invented mill in which nothing has happened. */
export function emptyRecords(to: string): BookRecords {
  return {
    from: '0001-01-01',
    to,
    currency: 'USD',
    supplies: [FLUX, WAGE],
    days: [],
    lots: [],
    lotParts: [],
    lotPurchases: [],
    testSmelts: [],
    batches: [],
    products: [],
    shipments: [],
    statements: [],
    payments: [],
    supplyPurchases: [],
    supplyCounts: [],
    expenses: [],
    writeOffs: [],
    stockEntries: [],
    rates: [],
  };
}

export function costOf(parts: { supply: BookSupply; quantity: string; unitPrice: string; amount: string }[]) {
  const lines = parts.map(({ supply, ...rest }): CostLine => ({
    ...rest,
    supplyId: supply.id,
    label: supply.name,
    unit: supply.unit,
    pricedBy: supply.kind === 'labour' ? 'list' : 'average',
  }));
  return { lines, total: sumOf(lines.map(({ amount }) => amount)).toFixed(2), missing: [] };
}

export function hours(count: number) {
  return { supply: WAGE, quantity: String(count), unitPrice: '26', amount: (26 * count).toFixed(2) };
}

export function day(id: string, on: string, concentrateDryKg: string | null, labour: number) {
  return {
    id,
    day: on,
    feedWetT: null,
    feedDryT: null,
    concentrateDryKg,
    hoursRun: null,
    assays: { feedGoldGpt: null, feedSilverGpt: null, tailingsGoldGpt: null, tailingsSilverGpt: null },
    labourHours: String(labour),
    cost: costOf([hours(labour)]),
  };
}

export function batch(
  about: Pick<BookBatch, 'id' | 'lotId' | 'dryMassKg' | 'inWorkOn' | 'finishedOn' | 'costOn' | 'cost'>,
): BookBatch {
  return {
    code: about.id,
    lotCode: about.lotId,
    treatmentId: 'smelt',
    treatmentName: 'Smelt',
    termsId: 'terms',
    buyerName: 'Invented Refiner',
    decisionId: null,
    plannedOn: about.costOn,
    status: about.finishedOn === null ? 'running' : 'done',
    furnaceHours: null,
    labourHours: null,
    leadInKg: null,
    leadBackKg: null,
    ...about,
  };
}

export function product(
  about: Pick<BookProduct, 'id' | 'kind' | 'batchId' | 'lotId' | 'madeOn' | 'massKg' | 'goldG' | 'silverG'>,
): BookProduct {
  return { code: about.id, batchCode: about.batchId, dryMassKg: about.massKg, ...about };
}

/** The entries of the flux's ledger, as they are loaded. */
export function fluxEntries(movements: readonly StockMovement[]): BookRecords['stockEntries'] {
  const { entries } = stockLedger({ movements, start: null, supply: FLUX, listPriceOn: () => null });
  return entries.map((entry, at) => ({
    ...entry,
    supplyId: FLUX.id,
    opens: at === 0 && entry.kind === 'count',
  }));
}
