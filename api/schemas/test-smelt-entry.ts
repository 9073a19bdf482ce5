import { z } from 'zod';
import { newBalance } from './balance.ts';
import { id, number, version } from './fields.ts';
import { newSupply } from './supply.ts';
import { impossibilities, newTrial, testSmeltFields } from './test-smelt.ts';

const named = id.nullable().default(null);

/** Reagents by the supply they are of, or by one that is entered with the test. */
const reagents = z
  .array(
    z.object({
      supplyId: named,
      newSupply: newSupply.nullable().default(null),
      massG: number({ above: 0, max: 100_000 }),
    }),
  )
  .max(40)
  .default([])
  .refine((list) => {
    const ids = list.flatMap(({ supplyId }) => supplyId ?? []);
    return new Set(ids).size === ids.length;
  }, 'must name each reagent once');

/**
 * A test smelt together with what it names and is not in the books yet: its trial, balances and reagents are named by
 * id, or given whole and entered with it; all of it is entered, or nothing. A bead without a balance of its own was
 * weighed on the new balance of the sample.
 */
const entryFields = testSmeltFields.extend({
  trialId: named,
  newTrial: newTrial.nullable().default(null),
  sampleBalanceId: named,
  newSampleBalance: newBalance.nullable().default(null),
  beadBalanceId: named,
  newBeadBalance: newBalance.nullable().default(null),
  reagents,
});

export const testSmeltEntry = entryFields.superRefine(impossibilities);
export const testSmeltEntryChange = entryFields.extend({ version }).superRefine(impossibilities);
export type TestSmeltEntry = z.output<typeof testSmeltEntry>;
