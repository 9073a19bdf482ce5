import { z } from 'zod';

export const backup = z.object({
  file: z.string(),
  /** RFC 3339, UTC. */
  madeAt: z.string(),
  sizeBytes: z.int(),
});

export const backupStatus = z.object({
  /** Where they are kept; null where this program was told to keep none. */
  directory: z.string().nullable(),
  /** Those that are kept, the latest first. */
  backups: z.array(backup),
  /** Whether the last good one is older than three days. */
  isOverdue: z.boolean(),
  /** The last try, where it failed. */
  lastFailure: z.object({ at: z.string(), reason: z.string() }).nullable(),
});

export const backupFile = z.object({
  file: z.string().regex(/^books-[\dTZ.-]{24}\.jsonl\.gz$/, 'the name of a backup as the list has it'),
});
