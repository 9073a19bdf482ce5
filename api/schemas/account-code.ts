import { z } from 'zod';
import { accountKindNames } from '../calc/books/account-kinds.ts';
import { MOST_VERSIONS, name } from './fields.ts';

const kind = z.enum(accountKindNames);
const accountFields = z.object({
  kind,
  /** Several kinds may share one code. */
  code: name(40),
  name: name(120),
  /** 0 while the suggestion stands unchanged. */
  version: z.int().min(0).max(MOST_VERSIONS),
});
export const accountCode = accountFields.extend({
  group: z.string(),
  /** What is booked on it, in plain words. */
  meaning: z.string(),
});
export type AccountCode = z.infer<typeof accountCode>;

export const accountCodesChange = z.object({
  codes: z
    .array(accountFields)
    .max(accountKindNames.length)
    .refine(
      (codes) => new Set(codes.map((one) => one.kind)).size === codes.length,
      'must name each kind once',
    ),
});
