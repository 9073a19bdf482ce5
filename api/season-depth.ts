import type { Kysely } from 'kysely';
import { figureOf, sumFigures } from './calc/books/book-entry.ts';
import type { BookStatement } from './calc/books/book-records.ts';
import { exchanged, type DatedRate } from './calc/books/exchange.ts';
import { monthResult } from './calc/books/month-figures.ts';
import { nextQuestions } from './calc/books/next-questions.ts';
import { netValueAtEnd, quantityAtEnd } from './calc/books/season-end.ts';
import { addDays, daysBetween } from './calc/calendar.ts';
import { expectedOfTreatment } from './calc/facts/expected-recovery.ts';
import { Dec, sumOf } from './calc/money.ts';
import { booksByMonth, correctionsPending, daysOf, type MonthBooks } from './month-books.ts';
import type { Finding } from './calc/finding.ts';
import { countsIn, monthBatch, type BatchFigures } from './month-batches.ts';
import type { Mill, Season } from './schemas/mill.ts';
import { listBalances } from '../db/queries/balances.ts';
import { findBudget } from '../db/queries/budgets.ts';
import { findCupellation } from '../db/queries/cupellation.ts';
import type { JudgedBatch } from '../db/queries/decision-records.ts';
import { decisionsOfSeason } from '../db/queries/decisions.ts';
import type { KeptGrade } from '../db/queries/kept-grades.ts';
import { latestQuotations } from '../db/queries/quotations.ts';
import { listSupplies } from '../db/queries/supplies.ts';
import { treatmentHistory } from '../db/queries/treatment-history.ts';
import { listTreatments } from '../db/queries/treatments.ts';
import type { SeasonDepth } from '../reports/model/season-depth-input.ts';
import type { Database } from '../db/schema.ts';

export interface SeasonFacts {
  mill: Mill;
  season: Season;
  asOf: string;
  /** The days of the season up to today. */
  span: { from: string; to: string };
  /** Batches of the season's lots, and those of other lots that were finished in it; none cancelled. */
  figures: readonly BatchFigures[];
  /** Statements issued in the span, and the rates of their currencies. */
  issued: readonly BookStatement[];
  rates: readonly DatedRate[];
  lots: readonly { id: string; code: string; leftKg: string }[];
  grades: ReadonlyMap<string, KeptGrade>;
}

/** What the season's report says beyond its lots, batches and statements; null before the season begins. */
export async function seasonDepth(
  db: Kysely<Database>,
  facts: SeasonFacts,
  waits: { withinMs?: number | undefined },
): Promise<{ depth: SeasonDepth | null; findings: Finding[] }> {
  if (facts.asOf < facts.season.startsOn) return { depth: null, findings: [] };
  const months = await booksByMonth(db, facts.span, facts.asOf, waits);
  return { depth: await depthOf(db, facts, months), findings: correctionsPending(months.values()) };
}

async function depthOf(
  db: Kysely<Database>,
  facts: SeasonFacts,
  months: ReadonlyMap<string, MonthBooks>,
): Promise<SeasonDepth> {
  const { mill, season, asOf, span } = facts;
  const byMonth = new Map([...months].map(([month, { figures }]) => [month, figures]));
  const figures = sumFigures(byMonth.values());
  const issuedOf = new Set(facts.issued.map(({ batchId }) => batchId));
  const batches = facts.figures.flatMap((one) => {
    const counts = countsIn(one.batch, { range: span, issuedOf });
    return counts.finished || counts.settled ? [monthBatch(one, counts)] : [];
  });
  const taught = await whatWasTaught(db, facts);
  return {
    currency: mill.currency,
    units: mill,
    figures,
    batches,
    buyers: byBuyer(facts),
    decisions: await judgedDecisions(db, facts),
    taught,
    questions: nextQuestions({
      lots: facts.lots.map(({ id, code, leftKg }) => ({
        code,
        leftKg: Number(leftKg),
        goldGpt: facts.grades.get(id)?.Au ?? null,
      })),
      treatments: taught.map(({ treatment, now, lotsNow }) => ({
        name: treatment,
        recoverySdFrac: now.sd,
        lotsTested: lotsNow,
      })),
      pricePerOzt: await goldPrice(db, mill.currency, asOf),
      currency: mill.currency,
    }),
    end: asOf >= season.endsOn ? null : await endOfSeason(db, facts, byMonth),
  };
}

async function goldPrice(db: Kysely<Database>, currency: string, on: string): Promise<number | null> {
  const quoted = (await latestQuotations(db, on)).find(
    (one) => one.metal === 'Au' && one.unit === 'ozt' && one.currency === currency,
  );
  return quoted === undefined ? null : Number(quoted.price);
}

/** Statements in the mill's currency by buyer; one without a rate is left out, as the report says above. */
function byBuyer({ issued: statements, mill: { currency }, rates }: SeasonFacts): SeasonDepth['buyers'] {
  const names = [...new Set(statements.map(({ buyerName }) => buyerName))].toSorted();
  const change = (one: BookStatement, metal: 'Au' | 'Ag') =>
    one.payableOzt[metal] === null
      ? new Dec(0)
      : new Dec(one.payableOzt[metal]).minus(one.payableBeforeOzt[metal] ?? 0);
  return names.map((name) => {
    const own = statements.filter(({ buyerName }) => buyerName === name);
    const amounts = own.flatMap(
      ({ brings, currency: of, issuedOn }) =>
        exchanged({ amount: brings, currency: of, on: issuedOn, millCurrency: currency, rates }).amount ?? [],
    );
    return {
      name,
      statements: own.length,
      amount: sumOf(amounts).toFixed(2),
      payableGoldOzt: sumOf(own.map((one) => change(one, 'Au'))).toFixed(),
      payableSilverOzt: sumOf(own.map((one) => change(one, 'Ag'))).toFixed(),
    };
  });
}

const VERDICTS = {
  'above-others': 'turned out right',
  'within-reach': 'cannot be told',
  'below-another': 'another would have brought more',
  'nothing-else': 'nothing to hold it against',
} as const;

/** What is known of a batch, for the decision that it carries out. */
function judgedBatch({ batch, settled }: BatchFigures, currency: string): JudgedBatch {
  return {
    ...batch,
    currency,
    settled,
    actualNetValue:
      settled && new Dec(settled.total).minus(settled.heldBack).minus(batch.cost.total).toFixed(2),
    missing: batch.status === 'done' ? batch.cost.missing : [],
  };
}

async function judgedDecisions(
  db: Kysely<Database>,
  { figures, season, mill }: SeasonFacts,
): Promise<SeasonDepth['decisions']> {
  const decisions = await decisionsOfSeason(
    db,
    { seasonId: season.id, upTo: season.endsOn },
    figures.map((one) => judgedBatch(one, mill.currency)),
  );
  return decisions.map(({ lotCode, decidedOn, chosen, batches }) => {
    const judged = batches.flatMap(({ hindsight }) => hindsight ?? []).at(-1);
    return {
      lotCode,
      decidedOn,
      chosen: chosen?.name ?? 'left as it is for now',
      verdict: judged === undefined ? 'not settled yet' : VERDICTS[judged.verdict],
      sentence: judged?.sentence ?? '',
    };
  });
}

/** Recoveries expected before the season and now, of the treatments that are in use. */
async function whatWasTaught(
  db: Kysely<Database>,
  { season, asOf }: SeasonFacts,
): Promise<SeasonDepth['taught']> {
  const mill = {
    balances: await listBalances(db),
    cupellation: await findCupellation(db),
    supplies: await listSupplies(db),
    treatments: await listTreatments(db),
  };
  const before = await treatmentHistory(db, addDays(season.startsOn, -1), mill);
  const now = await treatmentHistory(db, asOf < season.endsOn ? asOf : season.endsOn, mill);
  return mill.treatments
    .filter(({ retired }) => !retired)
    .map((treatment) => {
      const tested = (history: typeof now) =>
        history.filter(({ treatmentId, Au }) => treatmentId === treatment.id && Au !== null).length;
      return {
        treatment: treatment.name,
        before: expectedOfTreatment(treatment, before).recoveryPrior.Au,
        now: expectedOfTreatment(treatment, now).recoveryPrior.Au,
        lotsBefore: tested(before),
        lotsNow: tested(now),
      };
    });
}

/** Costs of a month that belong to no batch. */
function costsBesideBatches(figures: Record<string, string>): number {
  return new Dec(monthResult(figures).costs).minus(figureOf(figures, 'batchCost/')).toNumber();
}

async function endOfSeason(
  db: Kysely<Database>,
  { season, asOf, figures: allBatches, lots }: SeasonFacts,
  byMonth: ReadonlyMap<string, Record<string, string>>,
): Promise<SeasonDepth['end']> {
  const budget = await findBudget(db, season.id);
  const figures = sumFigures(byMonth.values());
  const thisMonth = asOf.slice(0, 7);
  const { to } = daysOf(thisMonth);
  const days = Number(to.slice(8));
  const partLeft = daysBetween(asOf, to < season.endsOn ? to : season.endsOn) / days;
  const planned = budget.months.map((one) => ({ ...one, name: one.month.slice(0, 7) }));
  const monthsLeft = partLeft + planned.filter(({ name }) => name > thisMonth).length;
  const leftOf = (of: (one: (typeof planned)[number]) => string): number =>
    planned.reduce(
      (sum, one) =>
        sum + Number(of(one)) * (one.name > thisMonth ? 1 : one.name === thisMonth ? partLeft : 0),
      0,
    );
  // Months before the first with anything in it say nothing of how the mill works.
  const first = [...byMonth].find(([, counted]) => Object.keys(counted).length > 0)?.[0] ?? thisMonth;
  const wholeMonths = planned.filter(
    ({ name, month }) => name < thisMonth && name >= first && month >= season.startsOn && byMonth.has(name),
  );
  const quantity = (
    label: string,
    unit: string,
    figure: string,
    of: (one: (typeof planned)[number]) => string,
  ) => {
    const done = figureOf(figures, figure).toNumber();
    return {
      label,
      unit,
      done,
      budget: planned.reduce((sum, one) => sum + Number(of(one)), 0),
      end: quantityAtEnd({
        done,
        complete: wholeMonths.map((one) => ({
          planned: Number(of(one)),
          done: figureOf(byMonth.get(one.name) ?? {}, figure).toNumber(),
        })),
        left: leftOf(of),
        monthsLeft,
      }),
    };
  };
  const ofSeason = new Set(lots.map(({ id }) => id));
  const own = allBatches.filter(({ batch }) => ofSeason.has(batch.lotId));
  const open = own.filter(({ settled }) => settled === null);
  const heldBack = sumOf(own.map(({ settled }) => settled?.heldBack ?? '0')).toNumber();
  const toDate = Number(monthResult(figures).netValue);
  return {
    quantities: [
      quantity('Feed', 't dry', 'feedDryT', ({ feedDryT }) => feedDryT),
      quantity('Concentrate', 'kg dry', 'concentrateDryKg', ({ concentrateDryKg }) => concentrateDryKg),
      quantity('Treated', 'kg dry', 'treatedDryKg', ({ treatedDryKg }) => treatedDryKg),
    ],
    netValue: {
      toDate,
      ...netValueAtEnd({
        toDate,
        // What is held back of those settled in part is still to come, and is known.
        openBatches: [{ mean: heldBack, p10: heldBack, p90: heldBack, bookedCost: 0 }].concat(
          open.flatMap(({ forecast, batch }) =>
            forecast === null
              ? []
              : [
                  {
                    mean: forecast.shown.netValue.mean,
                    p10: forecast.shown.netValue.p10,
                    p90: forecast.shown.netValue.p90,
                    bookedCost: Number(batch.cost.total),
                  },
                ],
          ),
        ),
        monthCosts: wholeMonths.map(({ name }) => costsBesideBatches(byMonth.get(name) ?? {})),
        monthsLeft,
        plannedCostsLeft: leftOf(({ fixedCosts }) => fixedCosts),
      }),
    },
    completeMonths: wholeMonths.length,
  };
}
