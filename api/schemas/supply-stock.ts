import { z } from 'zod';
import { currency, decimal, id, isoDate, price, text, version } from './fields.ts';
import { supplyKinds, supplyUnits } from './supply.ts';
import { finding } from './statement.ts';

const quantity = (range: { above?: number; min?: number }) => decimal({ ...range, max: 10_000_000 });

const purchaseFields = z.object({
  supplyId: id,
  boughtOn: isoDate,
  quantity: quantity({ above: 0 }),
  /** In all, without tax that is paid back, freight included. */
  amount: price,
  currency,
  supplier: text(120).default(''),
  document: text(120).default(''),
  paidOn: isoDate.nullable().default(null),
  remarks: text(2000).default(''),
});
export const newSupplyPurchase = purchaseFields;
export const supplyPurchaseChange = purchaseFields.extend({ version });
export const supplyPurchase = purchaseFields.extend({
  id,
  supplyName: z.string(),
  unit: z.enum(supplyUnits),
  version,
});
export type SupplyPurchase = z.infer<typeof supplyPurchase>;

const countFields = z.object({
  supplyId: id,
  countedOn: isoDate,
  /** What was there at the end of the day. */
  quantity: quantity({ min: 0 }),
  /** In the mill's currency; only for a first count, before any purchase is on the books. */
  unitCost: price.nullable().default(null),
  remarks: text(2000).default(''),
});
export const newSupplyCount = countFields;
export const supplyCountChange = countFields.extend({ version });
export const supplyCount = countFields.extend({
  id,
  supplyName: z.string(),
  unit: z.enum(supplyUnits),
  version,
});
export type SupplyCount = z.infer<typeof supplyCount>;

export const stockState = z.object({
  quantity: z.string(),
  value: z.string(),
  averageCost: z.string().nullable(),
});

const supplyOfStock = z.object({
  supplyId: id,
  name: z.string(),
  kind: z.enum(supplyKinds),
  unit: z.enum(supplyUnits),
});

/** Estimates, never booked. */
const outlook = z.object({
  usedPerDay: z.string().nullable(),
  daysLeft: z.int().nullable(),
  plannedQuantity: z.string(),
  shortage: z.object({ quantity: z.string(), by: isoDate, batchCodes: z.array(z.string()) }).nullable(),
});

export const stockLine = supplyOfStock.extend({
  /** Null where it was never bought or counted. */
  stock: stockState.nullable(),
  lastCountedOn: isoDate.nullable(),
  outlook,
});
export type StockLine = z.infer<typeof stockLine>;

export const stockOverview = z.object({
  asOf: isoDate,
  currency,
  lines: z.array(stockLine),
  totalValue: z.string(),
  /** The batches whose needs were looked at. */
  plannedBatches: z.array(z.object({ id, code: z.string(), on: isoDate })),
  findings: z.array(finding),
});
export type StockOverview = z.infer<typeof stockOverview>;

export const stockEntry = z.object({
  key: z.string(),
  on: isoDate,
  kind: z.enum(['purchase', 'use', 'return', 'count']),
  /** Signed changes. */
  quantity: z.string(),
  amount: z.string(),
  /** What a purchase changed of the cost of what had been used before it was there. */
  shortfallAmount: z.string(),
  unitCost: z.string().nullable(),
  after: stockState,
  source: z.union([
    z.object({ kind: z.literal('purchase'), id, supplier: z.string(), document: z.string() }),
    z.object({ kind: z.literal('count'), id }),
    z.object({ kind: z.literal('batch'), id, code: z.string() }),
    z.object({ kind: z.literal('day'), id }),
  ]),
});
export type StockEntry = z.infer<typeof stockEntry>;

export const supplyStock = supplyOfStock.extend({
  asOf: isoDate,
  currency,
  stock: stockState.nullable(),
  /** Oldest first; at most the newest so many. */
  entries: z.array(stockEntry),
  earlierEntries: z.int(),
  outlook,
  findings: z.array(finding),
});
export type SupplyStock = z.infer<typeof supplyStock>;
