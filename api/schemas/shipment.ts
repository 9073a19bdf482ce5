import { z } from 'zod';
import { currency, decimal, id, isoDate, name, text, version } from './fields.ts';
import { productKinds } from './batch.ts';

const shipmentFields = z.object({
  code: name(40),
  counterpartyId: id,
  shippedOn: isoDate,
  arrivedOn: isoDate.nullable().default(null),
  carrier: text(120).default(''),
  seals: text(500).default(''),
  insuredFor: decimal({ min: 0, max: 1_000_000_000 }).nullable().default(null),
  insuredCurrency: currency.nullable().default(null),
  insurer: text(120).default(''),
  remarks: text(2000).default(''),
  productIds: z
    .array(id)
    .min(1, 'must name at least one product')
    .max(200)
    .refine((ids) => new Set(ids).size === ids.length, 'must name each product once'),
});
type Dated = { shippedOn: string; arrivedOn: string | null };
const inOrder = (shipment: Dated) => shipment.arrivedOn === null || shipment.arrivedOn >= shipment.shippedOn;
const order = { path: ['arrivedOn'], error: 'must not be before the day it was shipped' };
type Insured = { insuredFor: string | null; insuredCurrency: string | null };
const inACurrency = (shipment: Insured) =>
  (shipment.insuredFor === null) === (shipment.insuredCurrency === null);
const needsCurrency = {
  path: ['insuredCurrency'],
  error: 'must be given with the insured sum, and only with it',
};

export const newShipment = shipmentFields.refine(inOrder, order).refine(inACurrency, needsCurrency);
export const shipmentChange = shipmentFields
  .extend({ version })
  .refine(inOrder, order)
  .refine(inACurrency, needsCurrency);
export type NewShipment = z.output<typeof newShipment>;

export const shipment = shipmentFields.extend({
  id,
  version,
  counterpartyName: z.string(),
  products: z.array(
    z.object({ id, code: z.string(), kind: z.enum(productKinds), massKg: z.string(), batchId: id }),
  ),
});
export type Shipment = z.infer<typeof shipment>;
