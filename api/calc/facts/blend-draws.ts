import type { InferLotResult, MetalSummary, RecoverySummary } from '../evidence/infer-lot.ts';
import type { LotDraws, Metal } from '../evidence/lot-evidence.ts';
import { METALS } from '../evidence/lot-evidence.ts';
import { summarize } from '../evidence/summary.ts';

/** What is known of one lot of a blend, and how much of it goes in. */
export interface BlendedLot {
  dryMassKg: number;
  inference: InferLotResult;
}

type Columns = readonly { weightKg: number; values: Float64Array }[];

/** Mean of columns by fixed weights, draw by draw. */
function byMass(columns: Columns, drawCount: number): Float64Array {
  const total = columns.reduce((sum, { weightKg }) => sum + weightKg, 0);
  const mean = new Float64Array(drawCount);
  for (const { weightKg, values } of columns) {
    const share = weightKg / total;
    for (let n = 0; n < drawCount; n++) mean[n]! += share * values[n]!;
  }
  return mean;
}

/** Mean of columns by the metal each lot brings in each draw; by mass in a draw without any metal. */
function byMetal(lots: readonly BlendedLot[], metal: Metal, of: readonly Float64Array[]): Float64Array {
  const drawCount = of[0]!.length;
  const mean = byMass(
    of.map((values, i) => ({ weightKg: lots[i]!.dryMassKg, values })),
    drawCount,
  );
  for (let n = 0; n < drawCount; n++) {
    let metalG = 0;
    let weighted = 0;
    for (const [i, { dryMassKg, inference }] of lots.entries()) {
      const grams = dryMassKg * inference.draws.gradeGpt[metal][n]!;
      metalG += grams;
      weighted += grams * of[i]![n]!;
    }
    if (metalG > 0) mean[n] = weighted / metalG;
  }
  return mean;
}

const testsOf = ({ inference }: BlendedLot, metal: Metal, treatmentId: string): number =>
  inference.summary[metal].recoveries.find((one) => one.treatmentId === treatmentId)?.testCount ?? 0;

/**
 * Recovery of a treatment on each lot. Where it was not tried on several of them, what is not known of it is the same
 * unknown for all of those: the draws of the first stand for them, so that it does not seem to average out.
 */
function recoveriesOfLots(lots: readonly BlendedLot[], metal: Metal, treatmentId: string): Float64Array[] {
  const untried = lots.find((lot) => testsOf(lot, metal, treatmentId) === 0);
  return lots.map((lot) => {
    const source = testsOf(lot, metal, treatmentId) === 0 ? untried! : lot;
    return source.inference.draws.recoveryFrac[treatmentId]![metal];
  });
}

/** Lots are mixed by mass; a treatment recovers of each lot's metal in the blend what it recovers of it alone. */
function blendedDraws(lots: readonly BlendedLot[]): LotDraws {
  const [first] = lots;
  const { drawCount, seed } = first!.inference.draws;
  const ofLots = (pick: (draws: LotDraws) => Float64Array) =>
    lots.map(({ inference }) => pick(inference.draws));
  const grade = (metal: Metal) =>
    byMass(
      lots.map(({ dryMassKg, inference }) => ({
        weightKg: dryMassKg,
        values: inference.draws.gradeGpt[metal],
      })),
      drawCount,
    );
  const common = Object.keys(first!.inference.draws.recoveryFrac).filter((id) =>
    lots.every(({ inference }) => inference.draws.recoveryFrac[id] !== undefined),
  );
  const recovery = (id: string, metal: Metal) => byMetal(lots, metal, recoveriesOfLots(lots, metal, id));
  const spread = (metal: Metal) =>
    byMetal(
      lots,
      metal,
      ofLots((draws) => draws.replicateSdFrac[metal]),
    );
  return {
    drawCount,
    seed,
    gradeGpt: { Au: grade('Au'), Ag: grade('Ag') },
    recoveryFrac: Object.fromEntries(
      common.map((id) => [id, { Au: recovery(id, 'Au'), Ag: recovery(id, 'Ag') }]),
    ),
    replicateSdFrac: { Au: spread('Au'), Ag: spread('Ag') },
  };
}

function blendedSummary(lots: readonly BlendedLot[], draws: LotDraws, metal: Metal): MetalSummary {
  const known = lots.some(({ inference }) => inference.summary[metal].gradeGpt !== null);
  const recoveries = lots[0]!.inference.summary[metal].recoveries.flatMap((one): RecoverySummary[] => {
    const blended = draws.recoveryFrac[one.treatmentId];
    if (blended === undefined) return [];
    const testCount = lots.reduce((sum, lot) => sum + testsOf(lot, metal, one.treatmentId), 0);
    return [{ ...one, testCount, posterior: summarize(blended[metal]) }];
  });
  return {
    gradeGpt: known ? summarize(draws.gradeGpt[metal]) : null,
    replicateSdFrac: known ? summarize(draws.replicateSdFrac[metal]) : null,
    recoveries,
    quadrature: null,
  };
}

/**
 * What is known of a blend of lots, on the lots' own joint draws: grade g = Σ mᵢ gᵢ ÷ Σ mᵢ, and recovery of a treatment
 * r = Σ mᵢ gᵢ rᵢ ÷ Σ mᵢ gᵢ, by the metal that each lot brings; both draw by draw. The lots must have been drawn with as
 * many draws each, and, as they are different lots, with different seeds. Source: balance of mass and of metal.
 */
export function blendInference(lots: readonly BlendedLot[]): InferLotResult {
  const draws = blendedDraws(lots);
  const summary = Object.fromEntries(
    METALS.map((metal) => [metal, blendedSummary(lots, draws, metal)]),
  ) as Record<Metal, MetalSummary>;
  const effectiveDraws = Math.min(...lots.map(({ inference }) => inference.effectiveDraws));
  return { draws, summary, effectiveDraws, findings: [] };
}
