import { z } from 'zod';
import { id } from './fields.ts';

export const lineageKinds = ['day', 'lot', 'batch', 'product', 'shipment', 'statement'] as const;

export const lineageNode = z.object({
  /** `lot:<id>` */
  key: z.string(),
  kind: z.enum(lineageKinds),
  id,
  /** Code, number, or the date of a day. */
  code: z.string(),
  on: z.string(),
  /** As weighed, kg: a day's dry concentrate, a lot's and batch's dry mass, a product's mass; null: none. */
  massKg: z.string().nullable(),
  /** A word or two more: the treatment, the kind of product, the buyer. */
  about: z.string(),
});
export type LineageNode = z.infer<typeof lineageNode>;

export const lineageEdge = z.object({
  from: z.string(),
  to: z.string(),
  /** Dry mass that went along it, kg; null where the whole goes along. */
  massKg: z.string().nullable(),
  on: z.string().nullable(),
});
export type LineageEdge = z.infer<typeof lineageEdge>;

export const lineage = z.object({
  of: z.string(),
  nodes: z.array(lineageNode),
  edges: z.array(lineageEdge),
  /** There is more than is drawn. */
  cutOff: z.boolean(),
});
export type Lineage = z.infer<typeof lineage>;

export const lineageOf = z
  .string()
  .regex(
    /^(day|lot|batch|product|shipment|statement):[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i,
    'must be what to follow and its id, such as lot:0b4f…',
  );
