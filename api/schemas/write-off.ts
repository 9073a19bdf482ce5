import { z } from 'zod';
import { id, isoDate, massKg, text } from './fields.ts';

const writeOffFields = z.object({
  lotId: id.nullable().default(null),
  productId: id.nullable().default(null),
  writtenOffOn: isoDate,
  /** kg dry for a lot, kg as weighed for a product. */
  massKg,
  reason: text(2000).min(1, 'must say why it is written off'),
});
const oneOfTwo = (one: { lotId: string | null; productId: string | null }) =>
  (one.lotId === null) !== (one.productId === null);

export const newWriteOff = writeOffFields.refine(oneOfTwo, {
  path: ['lotId'],
  error: 'must be a lot or a product, one of the two',
});
export const writeOff = writeOffFields.extend({
  id,
  /** Of the lot or product. */
  code: z.string(),
  enteredAt: z.string(),
});
export type WriteOff = z.infer<typeof writeOff>;
