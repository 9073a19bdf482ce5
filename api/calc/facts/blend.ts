import type { SaidUnits } from '../economics/options.ts';
import { METAL_NAMES, METALS } from '../evidence/lot-evidence.ts';
import type { Finding } from '../finding.ts';
import type { Mineral } from '../smelting/minerals.ts';
import { gramsPerPound } from '../units.ts';
import { saidFigure } from '../economics/decision-sentence.ts';
import type { Assumptions } from './assumptions.ts';
import { blendInference } from './blend-draws.ts';
import type { LotEvidence } from './lot-evidence.ts';
import { workLot } from './lot-evidence.ts';
import type { DecisionFacts, LotFacts } from './records.ts';
import { otherAssays } from './sale-option.ts';

/** A lot of a blend as it stands in the books, and the dry mass of it that goes in. */
export interface BlendPart {
  facts: DecisionFacts;
  dryMassKg: number;
  /** What is left of the lot; null: not looked at. */
  leftKg: number | null;
}

export interface Blend {
  /** The blend as if it were one lot: what a decision about it is worked from. */
  facts: DecisionFacts;
  evidence: LotEvidence;
  dryMassKg: number;
  /** "this blend of L-01 and L-02". */
  subject: string;
  findings: Finding[];
}

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/** The lots in the order of their ids, so that the same blend gives the same figures however it was put together. */
export const inOrder = (parts: readonly BlendPart[]): BlendPart[] =>
  parts.toSorted((a, b) => a.facts.lot.id.localeCompare(b.facts.lot.id));

/** As they are said: what brings the most first. */
const heaviestFirst = (parts: readonly BlendPart[]): BlendPart[] =>
  parts.toSorted(
    (a, b) => b.dryMassKg - a.dryMassKg || a.facts.lot.code.localeCompare(b.facts.lot.code, 'en'),
  );

const totalKg = (parts: readonly BlendPart[]): number => parts.reduce((sum, one) => sum + one.dryMassKg, 0);

function saidMass(massKg: number, units: SaidUnits | undefined): string {
  return units?.massUnit === 'lb'
    ? `${saidFigure((1000 * massKg) / gramsPerPound)} lb`
    : `${saidFigure(massKg)} kg`;
}

/** Mean by dry mass of a figure that each lot has. */
const meanByMass = (parts: readonly BlendPart[], of: (lot: LotFacts) => number): number =>
  parts.reduce((sum, { facts, dryMassKg }) => sum + dryMassKg * of(facts.lot), 0) / totalKg(parts);

function blendedMinerals(parts: readonly BlendPart[]): LotFacts['minerals'] {
  const shareOf = (lot: LotFacts, mineral: Mineral): number =>
    Number(lot.minerals.find((one) => one.mineral === mineral)?.massFrac ?? 0);
  const named = [...new Set(parts.flatMap(({ facts }) => facts.lot.minerals.map(({ mineral }) => mineral)))];
  return named.map((mineral) => ({
    mineral,
    massFrac: String(meanByMass(parts, (lot) => shareOf(lot, mineral))),
  }));
}

/** Elements beside gold and silver, by mass; what a lot is not known to hold counts as none, with a finding. */
function blendedElements(parts: readonly BlendPart[]): {
  labAssays: LotFacts['labAssays'];
  findings: Finding[];
} {
  const known = new Map(parts.map(({ facts }) => [facts.lot, otherAssays(facts.lot)]));
  const elements = [...new Set([...known.values()].flatMap(Object.keys))].toSorted();
  const findings = elements.flatMap((element): Finding[] => {
    const silent = parts.filter(({ facts }) => known.get(facts.lot)![element] === undefined);
    if (silent.length === 0) return [];
    return [
      {
        code: 'element-not-known-of-all',
        level: 'warning',
        path: '/blend',
        sentence: `The element ${element} is known of some lots of the blend but not of ${listed(silent.map(({ facts }) => facts.lot.code))}: taken there as absent. If it is there, a penalty may be higher.`,
      },
    ];
  });
  const labAssays = elements.map((element) => ({
    id: element,
    laboratory: 'By mass from the lots',
    certificate: '',
    element,
    unit: 'g/t' as const,
    value: String(1e6 * meanByMass(parts, (lot) => known.get(lot)![element] ?? 0)),
    standardUncertainty: null,
    sampleMassG: null,
  }));
  return { labAssays, findings };
}

/** How the gold of the blend sits in a sample: as in the lot that brings the most mass of those that say it. */
function blendedSampling(parts: readonly BlendPart[]): LotFacts['sampling'] {
  return heaviestFirst(parts).find(({ facts }) => facts.lot.sampling !== null)?.facts.lot.sampling ?? null;
}

function massFindings(parts: readonly BlendPart[], units: SaidUnits | undefined): Finding[] {
  return parts.flatMap(({ facts: { lot }, dryMassKg, leftKg }): Finding[] => {
    if (leftKg === null || dryMassKg <= leftKg * (1 + 1e-9)) return [];
    return [
      {
        code: 'more-than-is-left',
        level: 'blocker',
        path: '/blend',
        sentence: `The blend takes ${saidMass(dryMassKg, units)} of ${lot.code}, but only ${saidMass(leftKg, units)} are left.`,
      },
    ];
  });
}

function unknownFindings(
  parts: readonly BlendPart[],
  evidence: ReadonlyMap<BlendPart, LotEvidence>,
): Finding[] {
  return METALS.flatMap((metal): Finding[] => {
    const unknown = parts.filter((part) => evidence.get(part)!.inference.summary[metal].gradeGpt === null);
    if (unknown.length === 0 || unknown.length === parts.length) return [];
    return [
      {
        code: 'metal-not-known-of-all',
        level: 'warning',
        path: '/blend',
        sentence: `Nothing is known of the ${METAL_NAMES[metal]} in ${listed(unknown.map(({ facts }) => facts.lot.code))}: counted as none in the blend.`,
      },
    ];
  });
}

function assumedFinding(parts: readonly BlendPart[], units: SaidUnits | undefined): Finding {
  const what = listed(
    heaviestFirst(parts).map(
      ({ facts, dryMassKg }) => `${saidMass(dryMassKg, units)} dry of ${facts.lot.code}`,
    ),
  );
  return {
    code: 'blend-assumed',
    level: 'note',
    path: '/blend',
    sentence: `Worked for ${what}, mixed well. Assumed: grades, moisture, minerals and other elements mix by mass; a treatment recovers of each lot’s metal in the blend what it recovers of that lot alone, so the blend’s recovery is the mean by contained metal; one lot’s grade says nothing of another’s. A test smelt of the blend itself would show whether the lots help or hinder each other.`,
  };
}

/** What each lot of a blend says by itself, in the order of their ids; each with a seed of its own, as they are different lots. */
export function workParts(
  parts: readonly BlendPart[],
  assumptions: Pick<Assumptions, 'drawCount' | 'seed'>,
): { part: BlendPart; evidence: LotEvidence }[] {
  const { drawCount, seed } = assumptions;
  return inOrder(parts).map((part, place) => ({
    part,
    evidence: workLot(part.facts, { drawCount, seed: (seed + 7919 * place) % 2_147_483_647 }),
  }));
}

/**
 * A blend of lots as one lot, with what is known of it (`blendInference`): all that a decision about a lot is worked
 * from, so that every treatment, sale, penalty, what-if and inquiry works on it as it does on a lot. The first of the
 * parts lends what is the mill's: treatments, terms, supplies, prices.
 */
export function workBlend(worked: readonly { part: BlendPart; evidence: LotEvidence }[]): Blend {
  const parts = worked.map(({ part }) => part);
  const evidence = new Map(worked.map((one) => [one.part, one.evidence]));
  const { facts } = parts[0]!;
  const dryMassKg = totalKg(parts);
  const wetKg = parts.reduce(
    (sum, part) => sum + part.dryMassKg / (1 - Number(part.facts.lot.moistureFrac)),
    0,
  );
  const { labAssays, findings } = blendedElements(parts);
  const codes = heaviestFirst(parts).map((part) => part.facts.lot.code);
  const inference = blendInference(
    worked.map(({ part, evidence: of }) => ({ dryMassKg: part.dryMassKg, inference: of.inference })),
  );
  const ofLots = worked.flatMap(({ part, evidence: of }) =>
    of.inference.findings.map((finding) => ({
      ...finding,
      sentence: `${part.facts.lot.code}: ${finding.sentence}`,
    })),
  );
  return {
    dryMassKg,
    subject: `this blend of ${listed(codes)}`,
    findings: [
      ...massFindings(parts, facts.units),
      ...unknownFindings(parts, evidence),
      ...findings,
      assumedFinding(parts, facts.units),
    ],
    evidence: {
      trials: worked.flatMap((one) => one.evidence.trials),
      inference: { ...inference, findings: ofLots },
    },
    facts: {
      ...facts,
      trials: parts.flatMap((part) => part.facts.trials),
      lot: {
        id: parts.map((part) => part.facts.lot.id).join('+'),
        code: codes.join(' + '),
        moistureFrac: String(1 - dryMassKg / wetKg),
        dryMassKg: String(dryMassKg),
        minerals: blendedMinerals(parts),
        labAssays,
        sampling: blendedSampling(parts),
      },
    },
  };
}
