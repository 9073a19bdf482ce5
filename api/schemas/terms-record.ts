import { z } from 'zod';
import { id, isoDate, name, version } from './fields.ts';
import { termsSchema } from './terms.ts';

const termsFields = z.object({
  counterpartyId: id,
  name: name(160),
  validFrom: isoDate,
  validTo: isoDate.nullable().default(null),
  body: termsSchema,
});
const inOrder = (terms: { validFrom: string; validTo: string | null }) =>
  terms.validTo === null || terms.validTo >= terms.validFrom;
const order = { path: ['validTo'], error: 'must not be before the first day of validity' };

export const newTerms = termsFields.refine(inOrder, order);

/** A change of terms is a new version; the old one stays as it was, for what was settled under it. */
export const nextTerms = termsFields.extend({ afterVersionNumber: version }).refine(inOrder, order);

export const termsRecord = termsFields.extend({
  id,
  familyId: id,
  versionNumber: z.int(),
  counterpartyName: z.string(),
  material: z.enum(['concentrate', 'dore', 'by-product']),
  /** No newer version has taken its place. */
  isNewest: z.boolean(),
});
export type TermsRecord = z.infer<typeof termsRecord>;
