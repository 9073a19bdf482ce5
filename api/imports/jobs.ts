import type { Kysely } from 'kysely';
import { chunksOf } from './chunks.ts';
import { keyFrom, type FileKind } from './file-kind.ts';
import type { ImportJob } from './job.ts';
import type { Recorded } from './judge-rows.ts';
import { dayFile } from './day-file.ts';
import { purchaseFile } from './purchase-file.ts';
import { lotFile, type LotEntry } from './lot-file.ts';
import { quotationFile } from './quotation-file.ts';
import { testSmeltFile, type TestSmeltEntry } from './test-smelt-file.ts';
import { recordedTestSmelt, trialKey, trialsOf } from './trials.ts';
import type { NewProductionDay } from '../schemas/production-day.ts';
import type { Quotation } from '../schemas/supply.ts';
import { insertDays, recordedDays } from '../../db/queries/import-days.ts';
import { insertLots, recordedLots } from '../../db/queries/import-lots.ts';
import { insertPurchases, recordedPurchases, type NewPurchase } from '../../db/queries/import-purchases.ts';
import { insertStagedQuotations, recordedQuotations } from '../../db/queries/import-quotations.ts';
import * as smelts from '../../db/queries/import-test-smelts.ts';
import { listExchangeRates } from '../../db/queries/exchange-rates.ts';
import { findMill, listSeasons } from '../../db/queries/mill.ts';
import { listSupplies } from '../../db/queries/supplies.ts';
import type { Database } from '../../db/schema.ts';

/** Rows in one statement, so that none has more than the 65,535 parameters it may have. */
const LOTS_AT_ONCE = 1000;
const DAYS_AT_ONCE = 1000;
const SMELTS_AT_ONCE = 400;
const TRIALS_AT_ONCE = 5000;
/** These do not leave the database: the size only sets how often progress is told. */
const QUOTATIONS_AT_ONCE = 10_000;

const PURCHASES_AT_ONCE = 1000;
/** Of every currency its first rate is enough: it holds from its day on. */
const MOST_RATES = 100_000;

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
  restsOn: ['mill', 'quotation'],
  recorded: async (db, entries) => byKey(quotationFile, await recordedQuotations(db, entries)),
  notes: () => [],
  write: async (trx, { importId, count }, onWritten) => {
    for (let from = 0; from < count; from += QUOTATIONS_AT_ONCE) {
      const places = { from, to: Math.min(from + QUOTATIONS_AT_ONCE, count) };
      await insertStagedQuotations(trx, importId, places);
      onWritten(places.to - from);
    }
  },
};

export async function dayJob(db: Kysely<Database>): Promise<ImportJob<NewProductionDay>> {
  const kind = dayFile(await findMill(db), await listSupplies(db), await listSeasons(db));
  return {
    kind,
    restsOn: ['mill', 'supply', 'season', 'production_day', 'production_day_supply', 'production_day_labour'],
    recorded: async (books, entries) => {
      const days = entries.map(({ day }) => day);
      return byKey(kind, await recordedDays(books, days));
    },
    notes: () => [],
    write: async (trx, staged, onWritten) => {
      for await (const piece of staged.pieces(DAYS_AT_ONCE)) {
        await insertDays(trx, piece);
        onWritten(piece.length);
      }
    },
  };
}

export async function purchaseJob(db: Kysely<Database>, today: string): Promise<ImportJob<NewPurchase>> {
  const kind = purchaseFile({
    currency: (await findMill(db)).currency,
    today,
    supplies: await listSupplies(db),
    rates: await listExchangeRates(db, {}, MOST_RATES),
  });
  return {
    kind,
    restsOn: ['mill', 'supply', 'exchange_rate', 'supply_purchase'],
    recorded: async (books, entries) => byKey(kind, await recordedPurchases(books, entries)),
    notes: () => [],
    write: async (trx, staged, onWritten) => {
      for await (const piece of staged.pieces(PURCHASES_AT_ONCE)) {
        await insertPurchases(trx, piece);
        onWritten(piece.length);
      }
    },
  };
}

export async function lotJob(db: Kysely<Database>): Promise<ImportJob<LotEntry>> {
  const kind = lotFile(await listSeasons(db));
  return {
    kind,
    restsOn: ['mill', 'season', 'lot', 'lot_mineral'],
    recorded: async (books, entries) => {
      const codes = entries.map(({ code }) => code);
      return byKey(kind, await recordedLots(books, codes));
    },
    notes: () => [],
    write: async (trx, staged, onWritten) => {
      for await (const piece of staged.pieces(LOTS_AT_ONCE)) {
        await insertLots(trx, piece);
        onWritten(piece.length);
      }
    },
  };
}

export async function testSmeltJob(db: Kysely<Database>): Promise<ImportJob<TestSmeltEntry>> {
  const names = await smelts.testSmeltNames(db);
  const kind = testSmeltFile(names);
  const codeOfLot = new Map(names.lots.map(({ id, code }) => [id, code]));
  /** The trials that are there, and those that the file opens, by their key. */
  const idOfTrial = new Map<string, string>();
  const opened = new Set<string>();
  return {
    kind,
    restsOn: ['mill', 'lot', 'balance', 'supply', 'treatment', 'trial', 'test_smelt', 'test_smelt_reagent'],
    recorded: async (books, entries) => {
      const trials = await smelts.trialsNamed(
        books,
        trialsOf(entries).map(({ lotId, name }) => ({ lotId, name })),
      );
      for (const trial of trials) idOfTrial.set(trialKey(trial), trial.id);
      const keys = entries.flatMap(({ trial, smelt }) => {
        const trialId = idOfTrial.get(trialKey(trial));
        return trialId === undefined ? [] : [{ trialId, sample: smelt.sample }];
      });
      return recordedTestSmelt(kind, { trials, smelts: await smelts.testSmeltsNamed(books, keys) });
    },
    noteNew: (newEntries) => {
      for (const { trial } of newEntries)
        if (!idOfTrial.has(trialKey(trial))) opened.add(keyFrom(trial.name, trial.lotId));
    },
    notes: () => trialNotes([...opened], codeOfLot),
    write: async (trx, staged, onWritten) => {
      // First all trials: which treatment a trial is of may stand in any of its rows.
      const newTrials = new Map<string, TestSmeltEntry['trial']>();
      for await (const piece of staged.pieces(SMELTS_AT_ONCE))
        for (const trial of trialsOf(piece)) {
          const key = trialKey(trial);
          if (!idOfTrial.has(key) && newTrials.get(key)?.treatmentId == null) newTrials.set(key, trial);
        }
      for (const chunk of chunksOf([...newTrials], TRIALS_AT_ONCE)) {
        const ids = await smelts.insertTrials(
          trx,
          chunk.map(([, trial]) => trial),
        );
        chunk.forEach(([key], at) => idOfTrial.set(key, ids[at] ?? ''));
      }
      for await (const piece of staged.pieces(SMELTS_AT_ONCE)) {
        await smelts.insertTestSmelts(
          trx,
          piece.map(({ trial, smelt }) => ({ ...smelt, trialId: idOfTrial.get(trialKey(trial)) ?? '' })),
        );
        onWritten(piece.length);
      }
    },
  };
}

/** `opened` are keys of a trial's name and its lot's id. */
function trialNotes(opened: readonly string[], codeOfLot: Map<string, string>): string[] {
  if (opened.length === 0) return [];
  const named = opened.slice(0, NAMED_TRIALS).map((key) => {
    const [name = '', lotId = ''] = JSON.parse(key) as string[];
    return `${name} on lot ${codeOfLot.get(lotId)}`;
  });
  const others = opened.length - named.length;
  const are = opened.length === 1 ? 'One trial is opened' : `${opened.length} trials are opened`;
  return [`${are}: ${named.join('; ')}${others > 0 ? `; and ${others} more` : ''}.`];
}
