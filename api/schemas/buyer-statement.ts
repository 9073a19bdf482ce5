import { z } from 'zod';
import { decimal, id, isoDate, name, text, version } from './fields.ts';
import { importProblem } from './import.ts';
import { finding, sections } from './statement.ts';

/** More lines than this no statement of a parcel has. */
export const MOST_BUYER_LINES = 400;

const figure = decimal().nullable().default(null);

/** One line as the other party prints it; money signed as on our statement, deductions with a minus. */
export const buyerLine = z
  .object({
    label: name(200),
    /** The line of our settlement that it answers to; null where we have none. */
    lineId: name(200).nullable().default(null),
    /** A mass, a grade or a price; beside an amount, what it was multiplied from. */
    quantity: figure,
    amount: figure,
  })
  .refine(({ quantity, amount }) => quantity !== null || amount !== null, {
    path: ['amount'],
    message: 'must be given, or a quantity instead',
  });
export type BuyerLine = z.infer<typeof buyerLine>;

/** The statement that came from the buyer, or from whoever is the other party of ours. */
const fields = {
  number: name(60),
  datedOn: isoDate,
  lines: z.array(buyerLine).max(MOST_BUYER_LINES),
  total: decimal(),
  remarks: text(2000).default(''),
};
export const newBuyerStatement = z.object({ statementId: id, ...fields });
export type NewBuyerStatement = z.infer<typeof newBuyerStatement>;
export const buyerStatementChange = z.object({ ...fields, version });
export type BuyerStatementChange = z.infer<typeof buyerStatementChange>;

/** What is held against ours while it is still being entered. */
export const buyerComparisonEntry = newBuyerStatement.pick({ statementId: true, lines: true, total: true });

const printed = z.object({ value: z.string(), unit: z.string() }).nullable();
export const comparison = z.object({
  currency: z.string(),
  moneyDecimals: z.int(),
  lines: z.array(
    z.object({
      id: z.string().nullable(),
      label: z.string(),
      section: z.enum(sections).nullable(),
      ours: z.string().nullable(),
      theirs: z.string().nullable(),
      difference: z.string().nullable(),
      unit: z.string(),
      money: z.boolean(),
      ourQuantity: printed,
      theirQuantity: z.string().nullable(),
      working: z.string(),
      cause: z.int().nullable(),
    }),
  ),
  causes: z.array(
    z.object({
      code: z.string(),
      sentence: z.string(),
      lines: z.array(z.string()),
      reworked: z.array(
        z.object({
          id: z.string(),
          label: z.string(),
          unit: z.string(),
          before: z.string().nullable(),
          after: z.string().nullable(),
        }),
      ),
      moneyEffect: z.string(),
      totalAfter: z.string(),
      alternatives: z.array(z.string()),
    }),
  ),
  ourTotal: z.string(),
  theirTotal: z.string(),
  difference: z.string(),
  unexplained: z.string(),
  findings: z.array(finding),
});

export const buyerStatement = z.object({
  id,
  statementId: id,
  number: z.string(),
  datedOn: z.string(),
  lines: z.array(
    z.object({
      label: z.string(),
      lineId: z.string().nullable(),
      quantity: z.string().nullable(),
      amount: z.string().nullable(),
    }),
  ),
  total: z.string(),
  remarks: z.string(),
  version: z.int(),
});
export type BuyerStatement = z.infer<typeof buyerStatement>;

/** A file or pasted table of theirs as it was read, each line with the line of ours that it may answer to. */
export const readBuyerLines = z.object({
  lines: z.array(
    z.object({
      /** Line of the file, the first being 1. */
      row: z.int(),
      label: z.string(),
      quantity: z.string().nullable(),
      amount: z.string().nullable(),
      lineId: z.string().nullable(),
      /** How the line of ours was found. */
      by: z.enum(['label', 'amount', 'words']).nullable(),
    }),
  ),
  /** From a row that is named total. */
  total: z.string().nullable(),
  /** Labels of rows without a figure, which were left out. */
  leftOut: z.array(z.string()),
  problems: z.array(importProblem),
  problemCount: z.int(),
});
export type ReadBuyerLines = z.infer<typeof readBuyerLines>;
