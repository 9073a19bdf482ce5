import { Dec } from '../money.ts';
import type { Finding } from '../finding.ts';
import type { CostLine } from './batch-cost.ts';
import type { BookEntry, EntryRef, Figures } from './book-entry.ts';
import type { BookRecords, BookSupply } from './book-records.ts';
import { moneyEntries } from './money-entries.ts';

/** What was not entered adds nothing. */
export function entered(figures: Record<string, string | null>): Figures {
  return Object.fromEntries(
    Object.entries(figures).flatMap(([name, value]): [string, string][] =>
      value === null || new Dec(value).isZero() ? [] : [[name, value]],
    ),
  );
}

/**
 * The entries of all records of a range, each on the day that it counts: a day of the log its day; a lot when it was
 * made; a batch's mass when it went into work, the batch itself when it was finished, its costs when they count;
 * products when made; shipments when sent; the rest by their own days. What falls outside the range is left out.
 * Figures whose names have a slash are told apart by kind: `batchCost/reagent`, `made/bar/goldG`, `expense/rent`.
 */
export function monthEntries(records: BookRecords): { entries: BookEntry[]; findings: Finding[] } {
  const { entries: money, findings } = moneyEntries(records);
  const entries = [
    ...dayEntries(records),
    ...lotEntries(records),
    ...batchEntries(records),
    ...productEntries(records),
    ...money,
  ].filter(({ on }) => on >= records.from && on <= records.to);
  return {
    entries: entries.toSorted((a, b) => a.on.localeCompare(b.on) || (a.key < b.key ? -1 : 1)),
    findings: [...findings, ...missingCosts(records)],
  };
}

function dayEntries({ days, supplies }: BookRecords): BookEntry[] {
  return days.flatMap((day) => {
    const ref: EntryRef = { table: 'production_day', id: day.id };
    return [
      {
        key: `day:${day.id}`,
        on: day.day,
        label: `Day ${day.day}`,
        ref,
        figures: {
          days: '1',
          ...entered({
            feedWetT: day.feedWetT,
            feedDryT: day.feedDryT,
            concentrateDryKg: day.concentrateDryKg,
            hoursRun: day.hoursRun,
            dayLabourHours: day.labourHours,
          }),
        },
      },
      ...costEntries(day.cost.lines, supplies, {
        key: `day-cost:${day.id}`,
        figure: 'dayCost',
        on: day.day,
        label: `Day ${day.day}`,
        ref,
      }),
    ];
  });
}

/** One entry a supply: lead charged and lead back are one. */
function costEntries(
  lines: readonly CostLine[],
  supplies: readonly BookSupply[],
  { figure, key, label, ...about }: Omit<BookEntry, 'figures'> & { figure: 'dayCost' | 'batchCost' },
): BookEntry[] {
  return [...new Set(lines.map(({ supplyId }) => supplyId))].map((supplyId) => {
    const supply = supplies.find(({ id }) => id === supplyId);
    const amount = lines
      .filter((line) => line.supplyId === supplyId)
      .reduce((sum, line) => sum.plus(line.amount), new Dec(0));
    return {
      ...about,
      key: `${key}:${supplyId}`,
      label: `${label}, ${supply?.name ?? 'a supply'}`,
      figures: entered({ [`${figure}/${supply?.kind ?? 'other'}`]: amount.toFixed(2) }),
    };
  });
}

function lotEntries({ lots, testSmelts, writeOffs }: BookRecords): BookEntry[] {
  return [
    ...lots.map(({ id, code, madeOn, dryMassKg }): BookEntry => ({
      key: `lot:${id}`,
      on: madeOn,
      label: `Lot ${code}`,
      ref: { table: 'lot', id },
      figures: { lots: '1', lotDryKg: dryMassKg },
    })),
    ...testSmelts.map(({ id, lotId, lotCode, smeltedOn, sampleMassG }): BookEntry => ({
      key: `test-smelt:${id}`,
      on: smeltedOn,
      label: `Test smelt of lot ${lotCode}`,
      ref: { table: 'lot', id: lotId },
      figures: { testSmeltKg: new Dec(sampleMassG).div(1000).toFixed() },
    })),
    ...writeOffs.map(({ id, of, code, writtenOffOn, massKg, reason }): BookEntry => ({
      key: `write-off:${id}`,
      on: writtenOffOn,
      label: `${of === 'lot' ? `Lot ${code}` : code} written off: ${reason}`,
      ref: { table: 'write_off', id },
      figures: { [`writtenOff/${of}Kg`]: massKg },
    })),
  ];
}

function batchEntries({ batches, supplies }: BookRecords): BookEntry[] {
  return batches.flatMap((batch) => {
    const ref: EntryRef = { table: 'batch', id: batch.id };
    const label = `Batch ${batch.code}`;
    const entries: BookEntry[] = costEntries(batch.cost.lines, supplies, {
      key: `batch-cost:${batch.id}`,
      figure: 'batchCost',
      on: batch.costOn,
      label,
      ref,
    });
    if (batch.inWorkOn !== null)
      entries.push({
        key: `batch-in:${batch.id}`,
        on: batch.inWorkOn,
        label: `${label} into work`,
        ref,
        figures: { inWorkDryKg: batch.dryMassKg },
      });
    if (batch.status === 'done' && batch.finishedOn !== null)
      entries.push({
        key: `batch:${batch.id}`,
        on: batch.finishedOn,
        label,
        ref,
        figures: {
          batches: '1',
          ...entered({
            [batch.treatmentId === null ? 'soldDryKg' : 'treatedDryKg']: batch.dryMassKg,
            furnaceHours: batch.furnaceHours,
            batchLabourHours: batch.labourHours,
            leadInKg: batch.leadInKg,
            leadBackKg: batch.leadBackKg,
          }),
        },
      });
    return entries;
  });
}

function productEntries({ products, shipments }: BookRecords): BookEntry[] {
  return [
    ...products.map(({ id, code, kind, madeOn, massKg, goldG, silverG }): BookEntry => ({
      key: `product:${id}`,
      on: madeOn,
      label: code,
      ref: { table: 'product', id },
      figures: entered({
        [`made/${kind}/massKg`]: massKg,
        [`made/${kind}/goldG`]: goldG,
        [`made/${kind}/silverG`]: silverG,
      }),
    })),
    ...shipments.flatMap(({ id, code, shippedOn, products: shipped }) =>
      shipped.map((product): BookEntry => ({
        key: `shipment:${id}:${product.id}`,
        on: shippedOn,
        label: `${product.code} with shipment ${code}`,
        ref: { table: 'shipment', id },
        figures: entered({
          [`shipped/${product.kind}/massKg`]: product.massKg,
          [`shipped/${product.kind}/goldG`]: product.goldG,
          [`shipped/${product.kind}/silverG`]: product.silverG,
        }),
      })),
    ),
  ];
}

function missingCosts({ from, to, batches, days }: BookRecords): Finding[] {
  const say = (sentence: string): Finding => ({ code: 'cost-missing', level: 'warning', path: '', sentence });
  return [
    ...batches.flatMap(({ code, status, costOn, cost }) =>
      status === 'done' && costOn >= from && costOn <= to
        ? cost.missing.map((sentence) => say(`Batch ${code}: ${sentence}`))
        : [],
    ),
    ...days.flatMap(({ day, cost }) => cost.missing.map((sentence) => say(`Day ${day}: ${sentence}`))),
  ];
}
