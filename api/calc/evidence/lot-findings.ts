import { gptUnit, gradeFigure } from '../assay/figures.ts';
import type { Finding } from '../finding.ts';
import type { InferLotInput, Metal, MetalEvidence, MetalObservation } from './lot-evidence.ts';
import { METAL_NAMES, METALS } from './lot-evidence.ts';
import { recoveryPriorFrom } from './recovery-prior.ts';

/** A grade in g/t as it is said, in the owner's unit. */
function said({ gradeUnit = gptUnit }: InferLotInput, gradeGpt: number): string {
  return Number.isFinite(gradeGpt)
    ? `${gradeFigure(gradeGpt, gradeUnit, 3)} ${gradeUnit.name}`
    : 'not a number';
}

/** Of results of a metal (or of gold and silver together), those that can be used, and what had to be left out. */
function usableResults<
  Result extends { gradeGpt: number; uGpt: number; label: string; treatmentId?: string },
>(
  results: readonly Result[],
  input: InferLotInput,
  { name, path }: { name: string; path: string },
): { usable: Result[]; findings: Finding[] } {
  const findings: Finding[] = [];
  const known = new Set(input.treatments.map(({ id }) => id));
  const usable = results.filter(({ gradeGpt, uGpt, label, treatmentId }, place) => {
    if (!(Number.isFinite(gradeGpt) && uGpt >= 0 && Number.isFinite(uGpt) && (gradeGpt > 0 || uGpt > 0))) {
      findings.push({
        code: 'observation-not-usable',
        level: 'warning',
        path: `${path}/${place}`,
        sentence: `The ${name} result “${label}” (${said(input, gradeGpt)}, uncertainty ${said(input, uGpt)}) is not used: a result needs a number, and a result of nothing needs an uncertainty above zero.`,
      });
      return false;
    }
    if (treatmentId === undefined || known.has(treatmentId)) return true;
    findings.push({
      code: 'treatment-unknown',
      level: 'warning',
      path: `${path}/${place}/treatmentId`,
      sentence: `The ${name} result “${label}” is not used: its treatment is not among those compared.`,
    });
    return false;
  });
  return { usable, findings };
}

/** Evidence of one metal that can be used, and what had to be left out. */
export function usableEvidence(
  input: InferLotInput,
  metal: Metal,
): { evidence: MetalEvidence; findings: Finding[] } {
  const { smelts, labs } = input.metal[metal];
  const name = METAL_NAMES[metal];
  const ofLabs = usableResults(labs, input, { name, path: `/metal/${metal}/labs` });
  const ofSmelts = usableResults(smelts, input, { name, path: `/metal/${metal}/smelts` });
  return {
    evidence: { labs: ofLabs.usable, smelts: ofSmelts.usable },
    findings: [...ofLabs.findings, ...ofSmelts.findings],
  };
}

/** Beads not parted that can be used, and what had to be left out. */
export function usableUnparted(input: InferLotInput): { usable: MetalObservation[]; findings: Finding[] } {
  return usableResults(input.unparted ?? [], input, { name: 'gold and silver', path: '/unparted' });
}

/** What the lot's evidence as a whole lacks. */
export function lotFindings(
  input: InferLotInput,
  evidence: Record<Metal, MetalEvidence>,
  unparted: readonly MetalObservation[],
): Finding[] {
  const findings: Finding[] = [];
  const say = (code: string, level: Finding['level'], path: string, sentence: string) =>
    findings.push({ code, level, path, sentence });

  for (const [t, treatment] of input.treatments.entries()) {
    for (const metal of METALS) {
      const prior = treatment.recoveryPrior[metal];
      if (recoveryPriorFrom(prior) !== null) continue;
      const path = `/treatments/${t}/recoveryPrior/${metal}`;
      say(
        'recovery-prior-impossible',
        'blocker',
        path,
        `The expected ${METAL_NAMES[metal]} recovery of “${treatment.name}” (${prior.mean} ± ${prior.sd}) is not possible: the mean must lie between 0 and 1 and the uncertainty well below √(mean × (1 − mean)). Anything from nothing to all is assumed meanwhile.`,
      );
    }
  }
  const known = METALS.filter((metal) => evidence[metal].smelts.length + evidence[metal].labs.length > 0);
  if (known.length === 0) {
    say(
      'nothing-known',
      'blocker',
      '/metal',
      'Nothing is known of this lot: there is no parted test smelt and no lab assay. No value can be put on it before one of them is entered.',
    );
    return findings;
  }
  for (const metal of METALS) {
    if (!known.includes(metal)) {
      say(
        'metal-not-known',
        'warning',
        `/metal/${metal}`,
        `No result speaks of the ${METAL_NAMES[metal]} in this lot: it is counted as nothing until one is entered.`,
      );
    }
  }
  const withoutLab = known.filter((metal) => evidence[metal].labs.length === 0);
  if (withoutLab.length > 0) {
    say(
      'no-head-assay',
      'warning',
      '/metal',
      `There is no lab assay of the lot for ${withoutLab.map((metal) => METAL_NAMES[metal]).join(' and ')}: recovery is known only relative to the best test. The sale of the concentrate is uncertain, because the buyer pays on his assay of the true grade.`,
    );
  }
  const tested = [...known.flatMap((metal) => evidence[metal].smelts), ...unparted];
  const untested = input.treatments.filter(({ id }) => tested.every((smelt) => smelt.treatmentId !== id));
  for (const treatment of untested) {
    say(
      'treatment-untested',
      'note',
      `/treatments/${input.treatments.indexOf(treatment)}`,
      `“${treatment.name}” has not been tried on this lot: its recovery is what was expected of it beforehand.`,
    );
  }
  for (const metal of known) findings.push(...replicateFindings(metal, evidence[metal]));
  return findings;
}

function replicateFindings(metal: Metal, evidence: MetalEvidence): Finding[] {
  const counts = new Map<string, number>();
  for (const { treatmentId } of evidence.smelts) counts.set(treatmentId, (counts.get(treatmentId) ?? 0) + 1);
  const spares = [...counts.values()].reduce((sum, count) => sum + count - 1, 0);
  if (spares >= 4 || evidence.smelts.length === 0) return [];
  return [
    {
      code: 'replicates-few',
      level: 'note',
      path: `/metal/${metal}/smelts`,
      sentence: `There are few replicate tests for ${METAL_NAMES[metal]}: how far two smelts of this lot differ by chance is taken mostly from common experience.`,
    },
  ];
}

/**
 * Test smelts that gave more than the lab assays allow, labs that disagree, and
 * replicates that scatter. Conflicts are judged by the spread expected beforehand,
 * since the spread found afterwards has already been stretched to cover them.
 */
export function conflictFindings(
  input: InferLotInput,
  metal: Metal,
  evidence: MetalEvidence,
  spread: { expectedFrac: number; foundFrac: number },
): Finding[] {
  const findings: Finding[] = [];
  const mean = (observations: { gradeGpt: number; uGpt: number }[]) => {
    const value = observations.reduce((sum, { gradeGpt }) => sum + gradeGpt, 0) / observations.length;
    const variance = observations.reduce(
      (sum, { gradeGpt, uGpt }) => sum + uGpt * uGpt + (spread.expectedFrac * gradeGpt) ** 2,
      0,
    );
    return { value, u: Math.sqrt(variance) / observations.length };
  };
  const ascending = evidence.labs.toSorted((a, b) => a.gradeGpt - b.gradeGpt);
  const [lowest, highest] = [ascending.at(0), ascending.at(-1)];
  if (lowest !== undefined && highest !== undefined) {
    const [low, high] = [mean([lowest]), mean([highest])];
    if (high.value - low.value > 3 * Math.hypot(low.u, high.u)) {
      findings.push({
        code: 'labs-disagree',
        level: 'warning',
        path: `/metal/${metal}/labs`,
        sentence: `The lab assays of ${METAL_NAMES[metal]} run from ${said(input, low.value)} (“${lowest.label}”) to ${said(input, high.value)} (“${highest.label}”), further apart than their uncertainties and the usual unevenness of a lot explain: check units and samples, or ask for a third.`,
      });
    }
  }
  if (evidence.labs.length > 0) {
    const lab = mean(evidence.labs);
    for (const [t, { id, name }] of input.treatments.entries()) {
      const smelts = evidence.smelts.filter(({ treatmentId }) => treatmentId === id);
      if (smelts.length === 0) continue;
      const recovered = mean(smelts);
      if (recovered.value - lab.value <= 2 * Math.hypot(recovered.u, lab.u)) continue;
      findings.push({
        code: 'recovered-more-than-assayed',
        level: 'warning',
        path: `/treatments/${t}`,
        sentence: `“${name}” gave ${said(input, recovered.value)} of ${METAL_NAMES[metal]}, more than the ${said(input, lab.value)} of the lab assay allows: check the sample, the blank, the balance, and whether the lab had the same lot.`,
      });
    }
  }
  if (spread.foundFrac > 0.2) {
    findings.push({
      code: 'replicates-scatter',
      level: 'warning',
      path: `/metal/${metal}`,
      sentence: `Samples of this lot differ in ${METAL_NAMES[metal]} by about ${Math.round(100 * spread.foundFrac)} % beyond their weighing: coarse metal or poor splitting. Larger samples would say more than further tests of the same size.`,
    });
  }
  return findings;
}
