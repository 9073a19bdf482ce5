import { z } from 'zod';
import { id, isoDate, number, text, version } from './fields.ts';

const frac = number({ min: 0, below: 1 });

const cupellationFields = z.object({
  correction: z.enum(['off', 'stated', 'proofs']),
  goldLossFrac: frac,
  goldLossStandardUncertaintyFrac: frac,
  silverLossFrac: frac,
  silverLossStandardUncertaintyFrac: frac,
});
export const cupellationChange = cupellationFields.extend({ version });

/** Pure metal of known mass, cupelled beside the assays. */
export const newCupellationProof = z.object({
  metal: z.enum(['Au', 'Ag'], { error: 'must be gold or silver' }),
  provedOn: isoDate,
  takenMg: number({ above: 0, max: 1_000_000 }),
  foundMg: number({ min: 0, max: 1_000_000 }),
  balanceId: id,
  remarks: text(2000).default(''),
});
export const cupellationProof = newCupellationProof.extend({ id });

/** Proofs oldest first. */
export const cupellation = cupellationFields.extend({ version, proofs: z.array(cupellationProof) });
export type Cupellation = z.infer<typeof cupellation>;
