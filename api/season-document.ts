import type { Kysely } from 'kysely';
import { sumOf, Dec } from './calc/money.ts';
import type { Summary } from './calc/evidence/summary.ts';
import type { Finding } from './calc/finding.ts';
import type { Batch } from './schemas/batch.ts';
import type { Lot } from './schemas/lot.ts';
import { seasonDepth } from './season-depth.ts';
import { listBatches } from '../db/queries/batches.ts';
import { keptGrades, type KeptGrade } from '../db/queries/kept-grades.ts';
import { listLots } from '../db/queries/lots.ts';
import { findMill, findSeason } from '../db/queries/mill.ts';
import { listIssued } from '../db/queries/statements.ts';
import { listSupplies } from '../db/queries/supplies.ts';
import { forecastAgainstActual } from '../reports/charts/forecast-against-actual.ts';
import type { AccountantRow } from '../reports/csv/accountant-row.ts';
import { statementRows } from '../reports/csv/statement-rows.ts';
import { chartBlock } from '../reports/model/chart-block.ts';
import type { Report } from '../reports/model/report.ts';
import type { SeasonBatch, SeasonLot } from '../reports/model/season-input.ts';
import { seasonReport } from '../reports/model/season-report.ts';
import type { StatementStage } from '../reports/model/statement-input.ts';
import { millSells, owedToMill } from './statement-document.ts';
import type { Database } from '../db/schema.ts';
import type { Supply } from './schemas/supply.ts';

/** The width of a chart on paper. */
const CHART_WIDTH_PT = 480;

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
          sentence: `What lots hold is being worked out from their tests and assays: ${lots - pending} of ${lots} are done. Load this again for the rest.`,
        },
      ];
}

/** What a batch brings with what is held back until the final statement, which its forecast counts too. */
function broughtBy({ settled, actualNetValue }: Batch): SeasonBatch['actualNetValue'] {
  if (settled === null || actualNetValue === null) return null;
  return {
    amount: new Dec(actualNetValue).plus(settled.heldBack).toFixed(2),
    stage: settled.stage as StatementStage,
  };
}

function seasonBatch(batch: Batch): SeasonBatch {
  const range = ({ p10, p50, p90 }: { p10: number; p50: number; p90: number }) => ({ p10, p50, p90 });
  return {
    code: batch.code,
    lotCode: batch.lotCode,
    treatment: batch.treatmentName ?? `sold to ${batch.counterpartyName}`,
    dryMassKg: batch.dryMassKg,
    forecastNetValue: range(batch.forecast.netValue),
    actualNetValue: broughtBy(batch),
    forecastGoldOzt: range(batch.forecast.goldPayableOzt),
    actualGoldOzt: batch.payableGoldOzt,
    forecastSilverOzt: range(batch.forecast.silverPayableOzt),
    actualSilverOzt: batch.payableSilverOzt,
  };
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
  batches: readonly Batch[],
  supplies: readonly Supply[],
): { costs: { kind: string; amount: string }[]; findings: Finding[] } {
  const kindOf = new Map(supplies.map((supply) => [supply.id, COST_KINDS[supply.kind]]));
  const byKind = new Map<string, string[]>();
  for (const batch of batches)
    for (const line of batch.costs) {
      const kind = kindOf.get(line.supplyId) ?? 'Other supplies';
      byKind.set(kind, [...(byKind.get(kind) ?? []), line.amount]);
    }
  return {
    costs: [...byKind].map(([kind, amounts]) => ({ kind, amount: sumOf(amounts).toFixed(2) })),
    findings: batches.flatMap((batch) =>
      batch.missing.map((sentence) => ({
        code: 'cost-missing',
        level: 'warning' as const,
        path: '',
        sentence: `Batch ${batch.code}: ${sentence}`,
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
  const batches = (await listBatches(db, { seasonId })).filter((batch) => batch.status !== 'cancelled');
  const statements = await listIssued(db, seasonId);
  const { costs, findings } = seasonCosts(batches, await listSupplies(db));
  const { records, grades, lots, findings: ofGrades } = await seasonLots(db, seasonId, withinMs);
  return seasonReport({
    season,
    millName: mill.name,
    asOf,
    currency: mill.currency,
    moneyDecimals: 2,
    lots,
    depth: await seasonDepth(db, { mill, season, asOf, batches, lots: records, grades }),
    batches: batches.map(seasonBatch),
    settlements: statements.map((statement) => ({
      number: statement.number ?? '',
      stage: statement.stage,
      buyer: statement.counterpartyName,
      issuedOn: statement.issuedOn ?? '',
      amount: owedToMill(statement),
      currency: statement.currency,
    })),
    costs,
    metalUnit: mill.metalUnit,
    charts: [
      chartBlock(
        (width) =>
          forecastAgainstActual(
            {
              title: 'Net value, forecast against actual',
              quantity: 'Net value',
              unit: mill.currency,
              batches: batches.map((batch) => {
                const { p10, p50, p90 } = batch.forecast.netValue;
                const actual = broughtBy(batch);
                return {
                  name: batch.code,
                  forecast: { low: p10, median: p50, high: p90 },
                  actual: actual && Number(actual.amount),
                };
              }),
            },
            width,
          ),
        CHART_WIDTH_PT,
      ),
    ],
    findings: [...ofGrades, ...findings],
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
