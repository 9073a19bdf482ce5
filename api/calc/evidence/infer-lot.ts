import type { Finding } from '../finding.ts';
import { createRandom } from '../random.ts';
import type { InferLotInput, LotDraws, Metal, MetalEvidence, MetalObservation } from './lot-evidence.ts';
import { COMMON_REPLICATE_SD, METAL_NAMES, METALS, WIDE_GRADE_PRIOR } from './lot-evidence.ts';
import { conflictFindings, lotFindings, usableEvidence, usableUnparted } from './lot-findings.ts';
import type { MetalDraws, Quadrature } from './metal-posterior.ts';
import { drawMetal, drawUntestedRecovery } from './metal-posterior.ts';
import type { RecoveryPrior } from './recovery-prior.ts';
import { recoveryPriorFrom, recoveryQuantile } from './recovery-prior.ts';
import type { Summary } from './summary.ts';
import { summarize } from './summary.ts';
import { drawsWithUnparted, unpartedFindings } from './unparted.ts';

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
  /** How many independent draws they are worth: all of them, but for beads that are not parted (`drawsWithUnparted`). */
  effectiveDraws: number;
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

/** Draws of one metal before beads that are not parted are heard; the metal is 0 where nothing is known of it. */
function inferMetal(
  input: InferLotInput,
  metal: Metal,
  evidence: MetalEvidence,
): { drawn: MetalDraws | null; recoveryFrac: Record<string, Float64Array>; findings: Finding[] } {
  const findings: Finding[] = [];
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
  const tested = input.treatments.filter(({ id }) => testsOf(id, evidence.smelts) > 0);
  const recoveryFrac = Object.fromEntries(
    input.treatments.map((treatment) => {
      const { id, recoveryPrior } = treatment;
      const prior = recoveryPriorFrom(recoveryPrior[metal]) ?? NO_OPINION;
      const draws =
        drawn?.recoveryFrac[tested.indexOf(treatment)] ??
        drawUntestedRecovery(prior, input.drawCount, createRandom(input.seed, `recovery/${metal}/${id}`));
      return [id, draws];
    }),
  );
  return { drawn, recoveryFrac, findings };
}

const testsOf = (id: string, smelts: readonly MetalObservation[]): number =>
  smelts.filter(({ treatmentId }) => treatmentId === id).length;

function summaryOf(
  input: InferLotInput,
  metal: Metal,
  smelts: readonly MetalObservation[],
  { draws, drawn }: { draws: LotDraws; drawn: MetalDraws | null },
): MetalSummary {
  return {
    gradeGpt: drawn && summarize(draws.gradeGpt[metal]),
    replicateSdFrac: drawn && summarize(draws.replicateSdFrac[metal]),
    recoveries: input.treatments.map(({ id, name, recoveryPrior }) => {
      const given = recoveryPrior[metal];
      return {
        treatmentId: id,
        name,
        testCount: testsOf(id, smelts),
        prior: priorSummary(recoveryPriorFrom(given) ?? NO_OPINION, given),
        posterior: summarize(draws.recoveryFrac[id]![metal]),
      };
    }),
    quadrature: drawn?.quadrature ?? null,
  };
}

/**
 * True grade of a lot and recovery of each treatment, inferred together from
 * test smelts (which see grade × recovery) and lab assays (which see the grade).
 *
 * Gives joint draws for everything downstream, and their summaries. A metal
 * without any result is drawn as 0 g/t, with a finding; a treatment without a
 * test of this lot is drawn from its expected recovery. Gold and silver are
 * taken as independent of each other given parted beads and assays, as are the
 * expected recoveries of different treatments; beads that are not parted tie them
 * together (`drawsWithUnparted`). Model and quadrature: `drawMetal`.
 */
export function inferLot(input: InferLotInput): InferLotResult {
  const usable = { Au: usableEvidence(input, 'Au'), Ag: usableEvidence(input, 'Ag') };
  const evidence = { Au: usable.Au.evidence, Ag: usable.Ag.evidence };
  const beads = usableUnparted(input);
  const gold = inferMetal(input, 'Au', evidence.Au);
  const silver = inferMetal(input, 'Ag', evidence.Ag);
  const nothing = new Float64Array(input.drawCount);
  const parted: LotDraws = {
    drawCount: input.drawCount,
    seed: input.seed,
    gradeGpt: { Au: gold.drawn?.gradeGpt ?? nothing, Ag: silver.drawn?.gradeGpt ?? nothing },
    recoveryFrac: Object.fromEntries(
      input.treatments.map(({ id }) => [id, { Au: gold.recoveryFrac[id]!, Ag: silver.recoveryFrac[id]! }]),
    ),
    replicateSdFrac: {
      Au: gold.drawn?.replicateSdFrac ?? nothing,
      Ag: silver.drawn?.replicateSdFrac ?? nothing,
    },
  };
  const shareKnown = gold.drawn !== null && silver.drawn !== null;
  const heard = shareKnown && beads.usable.length > 0 ? drawsWithUnparted(parted, beads.usable) : null;
  const counted = heard === null ? [] : beads.usable;
  const draws = heard?.draws ?? parted;
  return {
    draws,
    effectiveDraws: heard?.effectiveDraws ?? input.drawCount,
    summary: {
      Au: summaryOf(input, 'Au', [...evidence.Au.smelts, ...counted], { draws, drawn: gold.drawn }),
      Ag: summaryOf(input, 'Ag', [...evidence.Ag.smelts, ...counted], { draws, drawn: silver.drawn }),
    },
    findings: [
      ...METALS.flatMap((metal) => usable[metal].findings),
      ...beads.findings,
      ...unpartedFindings(
        beads.usable,
        heard !== null ? 'counted' : shareKnown ? 'contradicts' : 'share not known',
      ),
      ...lotFindings(input, evidence, counted),
      ...gold.findings,
      ...silver.findings,
    ],
  };
}
