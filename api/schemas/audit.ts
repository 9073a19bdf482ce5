import { z } from 'zod';
import { id, isoDate, text } from './fields.ts';

/** One field of a record, before and after; null where it was not there. */
export const changedField = z.object({
  /** The field as the API names it, as a JSON pointer; of a part of the record, the part and its field. */
  pointer: z.string(),
  /** The same in words, with its unit. */
  label: z.string(),
  from: z.string().nullable(),
  to: z.string().nullable(),
});

export const changedRecord = z.object({
  sequence: z.string(),
  /** Kind of record, as the database names it. */
  table: z.string(),
  /** Kind of record in words. */
  kind: z.string(),
  recordId: z.string().nullable(),
  /** Its code or name. */
  name: z.string().nullable(),
  action: z.enum(['found', 'insert', 'update', 'delete', 'truncate']),
  /** More than one where many rows were written at once and only their number and fingerprint are kept. */
  rowCount: z.int(),
  fields: z.array(changedField),
});

/** What one request or one step of the program changed. */
export const change = z.object({
  /** Of the last of its entries. */
  sequence: z.string(),
  at: z.string(),
  actor: z.string(),
  accountId: z.string().nullable(),
  requestId: z.string().nullable(),
  entryCount: z.int(),
  /** The first of them. */
  records: z.array(changedRecord),
});

export const changeList = z.object({
  changes: z.array(change),
  /** To ask for the next ones with; null at the end. */
  next: z.string().nullable(),
  /** The newest entry of all and its fingerprint: noted elsewhere, it shows later that nothing before it was altered. */
  head: z.object({ sequence: z.string(), hash: z.string() }),
});

export const auditQuery = z.object({
  record: id.optional(),
  actor: text(120).optional(),
  from: isoDate.optional(),
  to: isoDate.optional(),
  before: z
    .string()
    .regex(/^\d{1,18}$/, 'must be the sequence number of a change')
    .optional(),
  limit: z.coerce.number().int().min(1).max(200).optional(),
});

export type ChangedField = z.infer<typeof changedField>;
export type ChangedRecord = z.infer<typeof changedRecord>;
export type Change = z.infer<typeof change>;
export type ChangeList = z.infer<typeof changeList>;
export type AuditQuery = z.infer<typeof auditQuery>;
