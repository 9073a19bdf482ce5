import type { Kysely } from 'kysely';
import { figureOf, sumFigures, type Figures } from './calc/books/book-entry.ts';
import type { BookRecords, BookStatement } from './calc/books/book-records.ts';
import {
  millMetalAccount,
  type LotGrades,
  type MillMovements,
  type MillState,
} from './calc/books/mill-account.ts';
import { monthResult } from './calc/books/month-figures.ts';
import { feedOfDays } from './calc/books/feed-of-days.ts';
import type { Metal } from './calc/evidence/lot-evidence.ts';
import { addDays } from './calc/calendar.ts';
import { sumOf } from './calc/money.ts';
import { productMetal, type MillScales } from './calc/production/product-metal.ts';
import type { Finding } from './calc/finding.ts';
import { booksByMonth, correctionsPending, daysOf, type MonthBooks } from './month-books.ts';
import { gradesPending } from './season-document.ts';
import { forecastLossG, MADE, monthBatches } from './month-batches.ts';
import { bookBatchesNamed } from '../db/queries/book-batches.ts';
import { bookRecords, type SupplyInStock } from '../db/queries/book-records.ts';
import { frozenReport } from '../db/queries/closed-months.ts';
import { keptGrades, measuredGrade } from '../db/queries/kept-grades.ts';
import { findMill } from '../db/queries/mill.ts';
import { lotsOfDays, millMovements, millStateOn } from '../db/queries/mill-state.ts';
import { listSupplies } from '../db/queries/supplies.ts';
import { amountsByMonth } from '../reports/charts/amounts-by-month.ts';
import { chartBlock } from '../reports/model/chart-block.ts';
import type {
  MetalOfMonth,
  MonthBatch,
  MonthReportInput,
  MonthSupply,
} from '../reports/model/month-input.ts';
import { monthReport } from '../reports/model/month-report.ts';
import { monthWords } from '../reports/model/month-words.ts';
import type { Report } from '../reports/model/report.ts';
import type { Database } from '../db/schema.ts';

/** The width of a chart on paper. */
const CHART_WIDTH_PT = 480;

/**
 * A month as a report: as it was frozen where it is closed, else as the records stand today. With a limit, what lots
 * hold is not waited for longer than that.
 */
export async function monthDocument(
  db: Kysely<Database>,
  month: string,
  today: string,
  waits: { withinMs?: number } = {},
): Promise<Report> {
  const frozen = (await frozenReport(db, month)) as Report | null;
  return frozen ?? openMonthReport(db, month, today, null, waits);
}

/** What lay at the mill when a month began. */
async function openingState(db: Kysely<Database>, month: string): Promise<MillState> {
  return millStateOn(db, addDays(daysOf(month).from, -1));
}

/** The report of an open month, with the words of its closing where it is about to be closed. */
export async function openMonthReport(
  db: Kysely<Database>,
  month: string,
  today: string,
  closed: MonthReportInput['closed'],
  waits: { withinMs?: number } = {},
): Promise<Report> {
  const mill = await findMill(db);
  const { from, to } = daysOf(month);
  const upTo = today < to ? (today < from ? from : today) : to;
  const yearFrom = `${month.slice(0, 4)}-01-01`;
  const months = await booksByMonth(db, { from: yearFrom, to }, today, waits);
  const own = months.get(month);
  const { records, inStock } = await bookRecords(db, { from, to });
  const facts = await metalFacts(db, month, upTo, records, waits);
  const told = [...records.batches, ...(await settledEarlier(db, records))];
  const batches = await monthBatches(db, told, {
    issued: records.statements,
    range: { from, to: upTo },
    grades: facts.grades,
    scales: mill,
    currency: mill.currency,
    rates: records.rates,
    workBases: true,
  });
  const begun = [...months].findIndex(([name, { entryCount }]) => entryCount > 0 || name === month);
  const byMonth = [...months].slice(begun).map(([name, { figures }]) => {
    const { settled, costs } = monthResult(figures);
    return { month: name, settled, costs };
  });
  const metals = Object.fromEntries(
    (['Au', 'Ag'] as const).map((metal): [Metal, MetalOfMonth] => [
      metal,
      {
        account: millMetalAccount({ ...facts, metal, scales: mill }),
        forecastLossG: forecastLossG(batches, metal),
        byProductsG: byProductsG(own?.figures ?? {}, metal),
        inProductsG: inProductsG(facts, mill, metal),
        payableFrac: payableFracs(records.statements, metal),
      },
    ]),
  ) as MonthReportInput['metals'];
  return monthReport({
    month,
    upTo,
    isOver: today > to,
    millName: mill.name,
    currency: mill.currency,
    units: mill,
    figures: {
      month: own?.figures ?? {},
      year: sumFigures([...months.values()].map(({ figures }) => figures)),
    },
    feed: feedOfDays(records.days, concentrateOf(facts.ofDays, facts.grades)),
    batches,
    metals,
    stock: { closing: facts.closing, supplies: inStock(upTo).map(inMonth) },
    corrections: own?.corrections ?? [],
    byMonth,
    charts: [
      chartBlock(
        (width) =>
          amountsByMonth(
            {
              title: 'Statements and costs by month',
              unit: mill.currency,
              names: ['Statements', 'Costs'],
              months: byMonth.map((one) => ({
                name: monthWords(one.month).slice(0, 3),
                amounts: [Number(one.settled), Number(one.costs)],
              })),
            },
            width,
          ),
        CHART_WIDTH_PT,
      ),
    ],
    closed,
    findings: [
      ...facts.findings,
      ...correctionsPending(months.values()),
      ...withoutProducts(batches),
      ...monthWarnings(months, month),
    ],
    cautions: [
      'Not a substitute for a licensed accountant or tax adviser, nor for a metallurgist’s audit: local law says what must be booked, kept and reported.',
    ],
    isDemo: mill.isDemo,
  });
}

/** Batches that are done and gave nothing that was entered: their metal is not anywhere. */
function withoutProducts(batches: readonly MonthBatch[]): Finding[] {
  return batches
    .filter(({ finishedInMonth, productCount }) => finishedInMonth && productCount === 0)
    .map(({ code }) => ({
      code: 'batch-without-products',
      level: 'warning',
      path: '',
      sentence: `Batch ${code} is done, but nothing that it gave is entered: until its bars, beads and by-products are, their metal is missing from the account.`,
    }));
}

/** The month's own warnings, and which earlier months of the year have some. */
function monthWarnings(months: ReadonlyMap<string, MonthBooks>, month: string): Finding[] {
  const warnings = ({ findings }: MonthBooks): Finding[] => findings.filter(({ level }) => level !== 'note');
  const own = months.get(month);
  const earlier = [...months].flatMap(([name, books]) =>
    name !== month && warnings(books).length > 0 ? [monthWords(name)] : [],
  );
  return [
    ...(own === undefined ? [] : warnings(own)),
    ...(earlier.length === 0
      ? []
      : [
          {
            code: 'warnings-of-earlier-months',
            level: 'warning' as const,
            path: '',
            sentence: `The year’s figures rest on months with warnings of their own, which their reports say: ${earlier.join(', ')}.`,
          },
        ]),
  ];
}

interface MetalFacts {
  opening: MillState;
  closing: MillState;
  movements: MillMovements;
  /** Lots that the concentrate of the month's days went into, by what of it. */
  ofDays: { lotId: string; dryMassKg: string }[];
  grades: LotGrades;
  /** That some grades are still being worked out. */
  findings: Finding[];
}

/** States, movements and the grades that they need; no more lots are inferred than are there. */
async function metalFacts(
  db: Kysely<Database>,
  month: string,
  upTo: string,
  records: BookRecords,
  waits: { withinMs?: number },
): Promise<MetalFacts> {
  const opening = await openingState(db, month);
  const closing = await millStateOn(db, upTo);
  const movements = await millMovements(db, { from: daysOf(month).from, to: upTo });
  const ofDays = await lotsOfDays(db, { from: daysOf(month).from, to: upTo });
  const ids = [
    ...ofDays.map(({ lotId }) => lotId),
    ...[opening, closing].flatMap((state) => [
      ...state.lots.map(({ id }) => id),
      ...state.inWork.map(({ lotId }) => lotId),
      ...[...state.products, ...state.withBuyers].flatMap(parcelLot),
    ]),
    ...[...movements.received, ...movements.takenFromLots].map(({ lotId }) => lotId),
    ...[...movements.productsOut, ...movements.productsWrittenOff].flatMap(parcelLot),
    ...records.batches.map(({ lotId }) => lotId),
  ];
  const lotIds = [...new Set(ids)];
  const { grades, pending } = await keptGrades(db, lotIds, waits);
  return {
    opening,
    closing,
    movements,
    ofDays,
    grades: new Map([...grades].map(([id, grade]) => [id, measuredGrade(grade)])),
    findings: gradesPending(pending.length, lotIds.length),
  };
}

/** What was found in by-products made in the month, by their own assays. */
function byProductsG(figures: Figures, metal: Metal): number {
  const name = metal === 'Au' ? 'goldG' : 'silverG';
  return sumOf(
    ['matte', 'slag', 'lead'].map((kind) => figureOf(figures, `made/${kind}/${name}`).toFixed()),
  ).toNumber();
}

/** What bars, beads and buttons hold, and what parcels do; where nothing says what one holds, it is left out. */
function inProductsG(
  { closing, grades }: MetalFacts,
  scales: MillScales,
  metal: Metal,
): MetalOfMonth['inProductsG'] {
  const sum = { bar: 0, parcel: 0 };
  for (const product of [...closing.products, ...closing.withBuyers]) {
    const held = productMetal(product, scales, grades.get(product.lotId) ?? { Au: null, Ag: null })[metal];
    if (product.kind === 'parcel') sum.parcel += held?.value ?? 0;
    else if (MADE.has(product.kind)) sum.bar += held?.value ?? 0;
  }
  return sum;
}

/** A parcel without an assay of its own holds what its lot holds. */
function parcelLot(product: MillState['products'][number]): string[] {
  const asLot = product.goldFinenessFrac === null || product.silverFinenessFrac === null;
  return product.kind === 'parcel' && asLot ? [product.lotId] : [];
}

/** Batches that were finished before the range and settled in it. */
async function settledEarlier(db: Kysely<Database>, records: BookRecords) {
  const known = new Set(records.batches.map(({ id }) => id));
  const ids = [...new Set(records.statements.map(({ batchId }) => batchId))].filter((id) => !known.has(id));
  if (ids.length === 0) return [];
  return bookBatchesNamed(db, ids, { supplies: await listSupplies(db), millCurrency: records.currency });
}

/** Mass-weighted gold grade of the lots that the concentrate of the month went into; null where one is not known. */
function concentrateOf(lots: readonly { lotId: string; dryMassKg: string }[], grades: LotGrades) {
  const parts = lots.map(({ lotId, dryMassKg }) => ({
    dryMassKg: Number(dryMassKg),
    gradeGpt: grades.get(lotId)?.Au ?? null,
  }));
  const whole = parts.reduce((sum, { dryMassKg }) => sum + dryMassKg, 0);
  if (whole <= 0 || parts.some(({ gradeGpt }) => gradeGpt === null)) return null;
  return {
    value: parts.reduce(
      (sum, { dryMassKg, gradeGpt }) => sum + (dryMassKg / whole) * (gradeGpt?.value ?? 0),
      0,
    ),
    u: Math.hypot(...parts.map(({ dryMassKg, gradeGpt }) => (dryMassKg / whole) * (gradeGpt?.u ?? 0))),
  };
}

/** Payable share of the contained metal by the lines of statements that state both, bars and parcels apart. */
function payableFracs(statements: readonly BookStatement[], metal: Metal): MetalOfMonth['payableFrac'] {
  const newest = [...new Map(statements.map((one) => [one.productId, one])).values()];
  const of = (kind: 'bar' | 'parcel'): number | null => {
    let [payable, contained] = [0, 0];
    for (const { productKind, settlement } of newest) {
      const line = settlement.lines.find(({ id }) => id === `payable/${metal}/metal`);
      if (productKind !== kind || line?.quantity == null || line.result === null) continue;
      if (line.quantity.unit !== line.result.unit) continue;
      contained += Number(line.quantity.value);
      payable += Number(line.result.value);
    }
    return contained > 0 ? payable / contained : null;
  };
  const [bar, parcel] = [of('bar'), of('parcel')];
  return { ...(bar === null ? {} : { bar }), ...(parcel === null ? {} : { parcel }) };
}

/** A supply in stock, at its moving average. */
function inMonth({ name, unit, state: { quantity, value } }: SupplyInStock): MonthSupply {
  return { name, unit, quantity, value };
}
