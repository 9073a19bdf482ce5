import { z } from 'zod';
import { id } from './fields.ts';

/** A batch as a list of work names it. */
const waitingBatch = z.object({
  id,
  code: z.string(),
  lotCode: z.string(),
  treatmentName: z.string().nullable(),
  counterpartyName: z.string(),
  dryMassKg: z.string(),
  plannedOn: z.string(),
  startedOn: z.string().nullable(),
  finishedOn: z.string().nullable(),
});
export type WaitingBatch = z.infer<typeof waitingBatch>;

const waitingStatement = z.object({
  id,
  number: z.string().nullable(),
  stage: z.string(),
  productCode: z.string(),
  counterpartyName: z.string(),
  total: z.string(),
  currency: z.string(),
  issuedOn: z.string().nullable(),
});
export type WaitingStatement = z.infer<typeof waitingStatement>;

/** The first of what waits, and how many there are in all. */
const waiting = <Row extends z.ZodType>(row: Row) => z.object({ first: z.array(row), count: z.int() });

export const today = z.object({
  /** Whether anything of the kind was ever entered. */
  entered: z.object({ lot: z.boolean(), testSmelt: z.boolean(), batch: z.boolean() }),
  /** The season that the day falls in, else the newest; null: none is open. */
  season: z
    .object({
      id,
      name: z.string(),
      lots: z.int(),
      leftKg: z.string(),
      /** Planned or made. */
      batches: z.int(),
      /** Those of them that something was settled for in the mill's currency, and what they brought net. */
      settled: z.int(),
      netValue: z.string(),
    })
    .nullable(),
  running: waiting(waitingBatch),
  planned: waiting(waitingBatch),
  /** Done, and no statement was issued for them. */
  unsettled: waiting(waitingBatch),
  drafts: waiting(waitingStatement),
  /** Issued as provisional, and nothing issued since that takes their place. */
  provisional: waiting(waitingStatement),
  lotsLeft: waiting(z.object({ id, code: z.string(), leftKg: z.string() })),
});
export type Today = z.infer<typeof today>;
