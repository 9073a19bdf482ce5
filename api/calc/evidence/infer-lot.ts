import type { Finding } from '../finding.ts';
import { createRandom } from '../random.ts';
import type { InferLotInput, LotDraws, Metal, MetalEvidence } from './lot-evidence.ts';
import { COMMON_REPLICATE_SD, METAL_NAMES, METALS, WIDE_GRADE_PRIOR } from './lot-evidence.ts';
import { conflictFindings, lotFindings, usableEvidence } from './lot-findings.ts';
import type { MetalDraws, Quadrature } from './metal-posterior.ts';
import { drawMetal, drawUntestedRecovery } from './metal-posterior.ts';
import type { RecoveryPrior } from './recovery-prior.ts';
import { recoveryPriorFrom, recoveryQuantile } from './recovery-prior.ts';
import type { Summary } from './summary.ts';
import { summarize } from './summary.ts';

/** A recovery before and after the evidence of this lot, as fractions. */
export interface RecoverySummary {
  treatmentId: string;
  name: string;
  /** How many test smelts of this lot speak of it. */
  testCount: number;
  prior: Summary;
  posterior: Summary;
}

export interface MetalSummary {
  /** True grade, g/t dry; null where nothing is known of the metal. */
  gradeGpt: Summary | null;
  /** Relative spread between samples of this lot beyond their stated uncertainties, as a fraction. */
  replicateSdFrac: Summary | null;
  recoveries: RecoverySummary[];
  quadrature: Quadrature | null;
}

export interface InferLotResult {
  draws: LotDraws;
  summary: Record<Metal, MetalSummary>;
  findings: Finding[];
}

/** Anything from nothing to all, nearly evenly: stands in where the expected recovery given is impossible. */
const NO_OPINION: RecoveryPrior = { logitMean: 0, logitSd: 1.6 };

function priorSummary(prior: RecoveryPrior, given: { mean: number; sd: number }): Summary {
  const [p10, p50, p90] = [0.1, 0.5, 0.9].map((p) => recoveryQuantile(prior, p)) as [number, number, number];
  return { ...given, p10, p50, p90 };
}

function drawEvidence(input: InferLotInput, metal: Metal, evidence: MetalEvidence): MetalDraws | null {
  const gradePrior = (input.gradePrior ?? WIDE_GRADE_PRIOR)[metal];
  const replicatePrior = (input.replicateSdPrior ?? COMMON_REPLICATE_SD)[metal];
  const measured = ({ gradeGpt, uGpt }: { gradeGpt: number; uGpt: number }) => ({ value: gradeGpt, u: uGpt });
  const tested = input.treatments.filter(({ id }) =>
    evidence.smelts.some((smelt) => smelt.treatmentId === id),
  );
  return drawMetal(
    {
      logGradePrior: { mean: Math.log(gradePrior.median), sd: gradePrior.sdLog },
      replicateSd: { medianFrac: replicatePrior.median, sdLog: replicatePrior.sdLog },
      labs: evidence.labs.map(measured),
      treatments: tested.map(({ id, recoveryPrior }) => ({
        prior: recoveryPriorFrom(recoveryPrior[metal]) ?? NO_OPINION,
        smelts: evidence.smelts.filter((smelt) => smelt.treatmentId === id).map(measured),
      })),
    },
    input.drawCount,
    createRandom(input.seed, `lot/${metal}`),
  );
}

function inferMetal(
  input: InferLotInput,
  metal: Metal,
  evidence: MetalEvidence,
  recoveryFrac: LotDraws['recoveryFrac'],
): { gradeGpt: Float64Array; replicateSdFrac: Float64Array; summary: MetalSummary; findings: Finding[] } {
  const findings: Finding[] = [];
  const testsOf = (id: string) => evidence.smelts.filter(({ treatmentId }) => treatmentId === id).length;
  const known = evidence.smelts.length + evidence.labs.length > 0;
  const drawn = known ? drawEvidence(input, metal, evidence) : null;
  if (known && drawn === null) {
    findings.push({
      code: 'evidence-contradicts',
      level: 'blocker',
      path: `/metal/${metal}`,
      sentence: `The ${METAL_NAMES[metal]} results of this lot cannot all be true within their uncertainties: check for a wrong mass, unit or lot, or allow for more spread between samples.`,
    });
  }
  if (drawn !== null) {
    const expectedFrac = (input.replicateSdPrior ?? COMMON_REPLICATE_SD)[metal].median;
    const foundFrac = summarize(drawn.replicateSdFrac).p50;
    findings.push(...conflictFindings(input, metal, evidence, { expectedFrac, foundFrac }));
  }
  const tested = input.treatments.filter(({ id }) => testsOf(id) > 0);
  const recoveries = input.treatments.map((treatment): RecoverySummary => {
    const { id, name } = treatment;
    const given = treatment.recoveryPrior[metal];
    const prior = recoveryPriorFrom(given) ?? NO_OPINION;
    const draws =
      drawn?.recoveryFrac[tested.indexOf(treatment)] ??
      drawUntestedRecovery(prior, input.drawCount, createRandom(input.seed, `recovery/${metal}/${id}`));
    (recoveryFrac[id] ??= { Au: draws, Ag: draws })[metal] = draws;
    return {
      treatmentId: id,
      name,
      testCount: testsOf(id),
      prior: priorSummary(prior, given),
      posterior: summarize(draws),
    };
  });
  return {
    gradeGpt: drawn?.gradeGpt ?? new Float64Array(input.drawCount),
    replicateSdFrac: drawn?.replicateSdFrac ?? new Float64Array(input.drawCount),
    findings,
    summary: {
      gradeGpt: drawn && summarize(drawn.gradeGpt),
      replicateSdFrac: drawn && summarize(drawn.replicateSdFrac),
      recoveries,
      quadrature: drawn?.quadrature ?? null,
    },
  };
}

/**
 * True grade of a lot and recovery of each treatment, inferred together from
 * test smelts (which see grade × recovery) and lab assays (which see the grade).
 *
 * Gives joint draws for everything downstream, and their summaries. A metal
 * without any result is drawn as 0 g/t, with a finding; a treatment without a
 * test of this lot is drawn from its expected recovery. Gold and silver are
 * taken as independent of each other given the evidence, as are the expected
 * recoveries of different treatments. Model and quadrature: `drawMetal`.
 */
export function inferLot(input: InferLotInput): InferLotResult {
  const usable = { Au: usableEvidence(input, 'Au'), Ag: usableEvidence(input, 'Ag') };
  const evidence = { Au: usable.Au.evidence, Ag: usable.Ag.evidence };
  const recoveryFrac: LotDraws['recoveryFrac'] = {};
  const gold = inferMetal(input, 'Au', evidence.Au, recoveryFrac);
  const silver = inferMetal(input, 'Ag', evidence.Ag, recoveryFrac);
  return {
    draws: {
      drawCount: input.drawCount,
      seed: input.seed,
      gradeGpt: { Au: gold.gradeGpt, Ag: silver.gradeGpt },
      recoveryFrac,
      replicateSdFrac: { Au: gold.replicateSdFrac, Ag: silver.replicateSdFrac },
    },
    summary: { Au: gold.summary, Ag: silver.summary },
    findings: [
      ...METALS.flatMap((metal) => usable[metal].findings),
      ...lotFindings(input, evidence),
      ...gold.findings,
      ...silver.findings,
    ],
  };
}
