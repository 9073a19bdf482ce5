import type { Kysely } from 'kysely';
import { sumOf, Dec } from './calc/money.ts';
import type { Summary } from './calc/evidence/summary.ts';
import type { Finding } from './calc/finding.ts';
import type { Lot } from './schemas/lot.ts';
import { batchFigures } from './month-batches.ts';
import { forecastChart, seasonBatch, seasonSettlements } from './season-batches.ts';
import { seasonDepth } from './season-depth.ts';
import type { BookBatch } from './calc/books/book-records.ts';
import { bookBatchesOfSeason } from '../db/queries/book-batches.ts';
import { ratesOf } from '../db/queries/book-records.ts';
import { bookStatements, statementsOfBatches } from '../db/queries/book-sales.ts';
import { listBatches } from '../db/queries/batches.ts';
import { keptGrades, measuredGrade, type KeptGrade } from '../db/queries/kept-grades.ts';
import { listLots } from '../db/queries/lots.ts';
import { findMill, findSeason } from '../db/queries/mill.ts';
import { listIssued } from '../db/queries/statements.ts';
import { listSupplies } from '../db/queries/supplies.ts';
import type { AccountantRow } from '../reports/csv/accountant-row.ts';
import { statementRows } from '../reports/csv/statement-rows.ts';
import type { Report } from '../reports/model/report.ts';
import type { SeasonLot } from '../reports/model/season-input.ts';
import { seasonReport } from '../reports/model/season-report.ts';
import { millSells } from './statement-document.ts';
import type { Database } from '../db/schema.ts';
import type { Supply } from './schemas/supply.ts';

/** Lots of a season with what they hold, and a word where there was no time to work that out for all. */
async function seasonLots(
  db: Kysely<Database>,
  seasonId: string,
  withinMs: number | undefined,
): Promise<{
  records: Lot[];
  grades: ReadonlyMap<string, KeptGrade>;
  lots: SeasonLot[];
  findings: Finding[];
}> {
  const lots = await listLots(db, seasonId);
  const { grades, pending } = await keptGrades(
    db,
    lots.map(({ id }) => id),
    { withinMs },
  );
  const range = (grade: Summary | null | undefined) =>
    grade ? { p10: grade.p10, p50: grade.p50, p90: grade.p90 } : null;
  return {
    records: lots,
    grades,
    lots: lots.map((lot) => ({
      code: lot.code,
      description: lot.description,
      dryMassKg: lot.dryMassKg,
      takenKg: new Dec(lot.dryMassKg).minus(lot.leftKg).toFixed(),
      leftKg: lot.leftKg,
      goldGpt: range(grades.get(lot.id)?.Au),
      silverGpt: range(grades.get(lot.id)?.Ag),
    })),
    findings: gradesPending(pending.length, lots.length),
  };
}

/** That grades are still being worked out. */
export function gradesPending(pending: number, lots: number): Finding[] {
  return pending === 0
    ? []
    : [
        {
          code: 'grades-being-worked-out',
          level: 'note',
          path: '/lots',
          sentence: `What lots hold is being worked out from their tests and assays: ${lots - pending} of ${lots} are done. The rest stands here when this is asked for again.`,
        },
      ];
}

const COST_KINDS: Record<Supply['kind'], string> = {
  reagent: 'Reagents',
  lead: 'Lead in, less lead back',
  litharge: 'Litharge',
  iron: 'Iron',
  fuel: 'Fuel',
  crucible: 'Crucibles',
  cupel: 'Cupels',
  labour: 'Wages',
  other: 'Other supplies',
};

/** Costs of the season's batches by kind, and which of them could not be costed. */
function seasonCosts(
  batches: readonly BookBatch[],
  supplies: readonly Supply[],
): { costs: { kind: string; amount: string }[]; findings: Finding[] } {
  const kindOf = new Map(supplies.map((supply) => [supply.id, COST_KINDS[supply.kind]]));
  const byKind = new Map<string, string[]>();
  for (const { cost } of batches)
    for (const line of cost.lines) {
      const kind = kindOf.get(line.supplyId) ?? 'Other supplies';
      const amounts = byKind.get(kind);
      if (amounts === undefined) byKind.set(kind, [line.amount]);
      else amounts.push(line.amount);
    }
  return {
    costs: [...byKind].map(([kind, amounts]) => ({ kind, amount: sumOf(amounts).toFixed(2) })),
    findings: batches.flatMap(({ code, status, cost }) =>
      status !== 'done'
        ? []
        : cost.missing.map((sentence) => ({
            code: 'cost-missing',
            level: 'warning' as const,
            path: '',
            sentence: `Batch ${code}: ${sentence}`,
          })),
    ),
  };
}

/**
 * The season as a report as of a day: the same for the page and the print. With a limit, what lots hold is not waited
 * for longer than that.
 */
export async function seasonDocument(
  db: Kysely<Database>,
  seasonId: string,
  asOf: string,
  { withinMs }: { withinMs?: number | undefined } = {},
): Promise<Report> {
  const mill = await findMill(db);
  const season = await findSeason(db, seasonId);
  const supplies = await listSupplies(db);
  const { records, grades, lots, findings: ofGrades } = await seasonLots(db, seasonId, withinMs);
  const span = { from: season.startsOn, to: asOf < season.endsOn ? asOf : season.endsOn };
  const books = { supplies, millCurrency: mill.currency };
  const batches = await bookBatchesOfSeason(db, { seasonId, ...span }, books);
  const statements = await statementsOfBatches(
    db,
    batches.map(({ id }) => id),
    asOf,
  );
  const issued = [
    ...[...statements.values()].flat().filter(({ issuedOn }) => issuedOn >= span.from && issuedOn <= span.to),
    ...(await bookStatements(db, span, [...statements.keys()])),
  ];
  const rates = await ratesOf(
    db,
    [...statements.values(), issued]
      .flat()
      .map(({ currency }) => currency)
      .filter((one) => one !== mill.currency),
    asOf,
  );
  const figures = await batchFigures(db, batches, {
    statements,
    grades: new Map([...grades].map(([id, grade]) => [id, measuredGrade(grade)])),
    scales: mill,
    currency: mill.currency,
    rates,
    workBases: false,
  });
  const lotIds = new Set(records.map(({ id }) => id));
  const ofSeason = figures.filter(({ batch }) => lotIds.has(batch.lotId));
  const told = ofSeason.map(seasonBatch);
  const { costs, findings } = seasonCosts(
    ofSeason.map(({ batch }) => batch),
    supplies,
  );
  const facts = { mill, season, asOf, span, figures, issued, rates, lots: records, grades };
  const { depth, findings: ofMonths } = await seasonDepth(db, facts, { withinMs });
  return seasonReport({
    season,
    millName: mill.name,
    asOf,
    currency: mill.currency,
    moneyDecimals: 2,
    lots,
    depth,
    batches: told,
    settlements: seasonSettlements(ofSeason),
    costs,
    metalUnit: mill.metalUnit,
    charts: [forecastChart(told, mill.currency)],
    findings: [...ofGrades, ...ofMonths, ...findings],
    cautions: [
      'Not a substitute for a licensed accountant or tax adviser: local law says what is due and when.',
    ],
    isDemo: mill.isDemo,
  });
}

const ACCOUNTANT_KINDS: Record<Supply['kind'], AccountantRow['kind']> = {
  reagent: 'reagent',
  lead: 'lead',
  litharge: 'litharge',
  iron: 'iron',
  fuel: 'fuel',
  crucible: 'crucible',
  cupel: 'cupel',
  labour: 'wage',
  other: 'other cost',
};

/** Every amount of every issued statement and every batch cost of a season, by date. */
export async function accountantRows(db: Kysely<Database>, seasonId: string): Promise<AccountantRow[]> {
  const mill = await findMill(db);
  const supplies = new Map((await listSupplies(db)).map((supply) => [supply.id, supply]));
  const sales = (await listIssued(db, seasonId)).flatMap((statement) =>
    statementRows({
      settlement: statement.settlement,
      number: statement.number ?? '',
      issuedOn: statement.issuedOn ?? '',
      counterparty: statement.counterpartyName,
      millIs: millSells(statement) ? 'seller' : 'buyer',
      productionTaxes: statement.kept.settlementInput.terms.royalties
        .filter((royalty) => royalty.kind === 'production-tax')
        .map((royalty) => royalty.name),
    }),
  );
  const costs = (await listBatches(db, { seasonId })).flatMap((batch) =>
    batch.costs.map((line): AccountantRow => ({
      date: batch.finishedOn ?? batch.startedOn ?? batch.plannedOn,
      documentNumber: batch.code,
      documentLine: '',
      counterparty: '',
      kind: ACCOUNTANT_KINDS[supplies.get(line.supplyId)?.kind ?? 'other'],
      description: line.label,
      quantity: line.quantity,
      unit: line.unit,
      unitPrice: new Dec(line.unitPrice).negated().toFixed(),
      amount: new Dec(line.amount).negated().toFixed(2),
      currency: mill.currency,
    })),
  );
  return [...sales, ...costs].sort(
    (a, b) => a.date.localeCompare(b.date) || a.documentNumber.localeCompare(b.documentNumber),
  );
}
