import type { Kysely } from 'kysely';
import { chunksOf } from './chunks.ts';
import type { FileKind } from './file-kind.ts';
import type { ImportJob } from './job.ts';
import type { Recorded } from './judge-rows.ts';
import { dayFile } from './day-file.ts';
import { lotFile, type LotEntry } from './lot-file.ts';
import { quotationFile } from './quotation-file.ts';
import { testSmeltFile, type TestSmeltEntry } from './test-smelt-file.ts';
import { recordedTestSmelt, trialKey, trialsOf } from './trials.ts';
import type { NewProductionDay } from '../schemas/production-day.ts';
import type { Quotation } from '../schemas/supply.ts';
import { insertDays, recordedDays } from '../../db/queries/import-days.ts';
import { insertLots, recordedLots } from '../../db/queries/import-lots.ts';
import { insertQuotations, recordedQuotations } from '../../db/queries/import-quotations.ts';
import * as smelts from '../../db/queries/import-test-smelts.ts';
import { findMill, listSeasons } from '../../db/queries/mill.ts';
import { listSupplies } from '../../db/queries/supplies.ts';
import type { Database } from '../../db/schema.ts';

/** Rows in one statement, so that none has more than the 65,535 parameters it may have. */
const LOTS_AT_ONCE = 1000;
const DAYS_AT_ONCE = 1000;
const SMELTS_AT_ONCE = 400;
const TRIALS_AT_ONCE = 5000;
/** These go as arrays: the size only sets how often progress is told. */
const QUOTATIONS_AT_ONCE = 2500;

const NAMED_TRIALS = 10;

/** Gathers records by the key of their rows. */
function byKey<Row>(kind: FileKind<Row>, records: readonly Row[]): (entry: Row) => Recorded | null {
  const recordOfKey = new Map(records.map((record) => [kind.keyOf(record), record]));
  return (entry) => {
    const record = recordOfKey.get(kind.keyOf(entry));
    return record === undefined
      ? null
      : { title: kind.titleOf(record), values: kind.shown(record), isThere: true };
  };
}

export const quotationJob: ImportJob<Quotation> = {
  kind: quotationFile,
  books: async (db, entries) => {
    const recorded: Quotation[] = [];
    for (const chunk of chunksOf(entries, QUOTATIONS_AT_ONCE))
      recorded.push(...(await recordedQuotations(db, chunk)));
    return {
      recordedOf: byKey(quotationFile, recorded),
      notes: () => [],
      write: async (newEntries, onWritten) => {
        for (const chunk of chunksOf(newEntries, QUOTATIONS_AT_ONCE)) {
          await insertQuotations(db, chunk);
          onWritten(chunk.length);
        }
      },
    };
  },
};

export async function dayJob(db: Kysely<Database>): Promise<ImportJob<NewProductionDay>> {
  const kind = dayFile(await findMill(db), await listSupplies(db), await listSeasons(db));
  return {
    kind,
    books: async (books, entries) => ({
      recordedOf: byKey(
        kind,
        await recordedDays(
          books,
          entries.map(({ day }) => day),
        ),
      ),
      notes: () => [],
      write: async (newEntries, onWritten) => {
        for (const chunk of chunksOf(newEntries, DAYS_AT_ONCE)) {
          await insertDays(books, chunk);
          onWritten(chunk.length);
        }
      },
    }),
  };
}

export async function lotJob(db: Kysely<Database>): Promise<ImportJob<LotEntry>> {
  const kind = lotFile(await listSeasons(db));
  return {
    kind,
    books: async (books, entries) => ({
      recordedOf: byKey(
        kind,
        await recordedLots(
          books,
          entries.map(({ code }) => code),
        ),
      ),
      notes: () => [],
      write: async (newEntries, onWritten) => {
        for (const chunk of chunksOf(newEntries, LOTS_AT_ONCE)) {
          await insertLots(books, chunk);
          onWritten(chunk.length);
        }
      },
    }),
  };
}

export async function testSmeltJob(db: Kysely<Database>): Promise<ImportJob<TestSmeltEntry>> {
  const names = await smelts.testSmeltNames(db);
  const kind = testSmeltFile(names);
  const codeOfLot = new Map(names.lots.map(({ id, code }) => [id, code]));
  return {
    kind,
    books: async (books, entries) => {
      const lotIds = [...new Set(entries.map(({ trial }) => trial.lotId))];
      const trials = await smelts.trialsOfLots(books, lotIds);
      const recorded = await smelts.testSmeltsOfTrials(
        books,
        trials.map(({ id }) => id),
      );
      const idOfTrial = new Map(trials.map((trial) => [trialKey(trial), trial.id]));
      const newTrials = (newEntries: readonly TestSmeltEntry[]): TestSmeltEntry['trial'][] =>
        trialsOf(newEntries).filter((trial) => !idOfTrial.has(trialKey(trial)));
      return {
        recordedOf: recordedTestSmelt(kind, { trials, smelts: recorded }),
        notes: (newEntries) => trialNotes(newTrials(newEntries), codeOfLot),
        write: async (newEntries, onWritten) => {
          for (const chunk of chunksOf(newTrials(newEntries), TRIALS_AT_ONCE)) {
            const ids = await smelts.insertTrials(books, chunk);
            chunk.forEach((trial, at) => idOfTrial.set(trialKey(trial), ids[at] ?? ''));
          }
          for (const chunk of chunksOf(newEntries, SMELTS_AT_ONCE)) {
            await smelts.insertTestSmelts(
              books,
              chunk.map(({ trial, smelt }) => ({ ...smelt, trialId: idOfTrial.get(trialKey(trial)) ?? '' })),
            );
            onWritten(chunk.length);
          }
        },
      };
    },
  };
}

function trialNotes(trials: readonly TestSmeltEntry['trial'][], codeOfLot: Map<string, string>): string[] {
  if (trials.length === 0) return [];
  const named = trials
    .slice(0, NAMED_TRIALS)
    .map(({ lotId, name }) => `${name} on lot ${codeOfLot.get(lotId)}`);
  const others = trials.length - named.length;
  const opened = trials.length === 1 ? 'One trial is opened' : `${trials.length} trials are opened`;
  return [`${opened}: ${named.join('; ')}${others > 0 ? `; and ${others} more` : ''}.`];
}
