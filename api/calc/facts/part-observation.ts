import type { LabObservation, Metal } from '../evidence/lot-evidence.ts';
import { METAL_NAMES } from '../evidence/lot-evidence.ts';
import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { gptPerOzPerShortTon } from '../units.ts';
import type { EvidenceFacts, LotFacts, MadeFromFacts } from './records.ts';

const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/** Parts that rest on a lot in common, put together: whatever is wrong with that lot's assays is wrong with all of them. */
function kindred(parts: readonly MadeFromFacts[]): MadeFromFacts[][] {
  const groups: { lots: Set<string>; parts: MadeFromFacts[] }[] = [];
  for (const part of parts) {
    const touching = groups.filter(({ lots }) => part.restsOnLots.some((id) => lots.has(id)));
    const joined = {
      lots: new Set([...part.restsOnLots, ...touching.flatMap(({ lots }) => [...lots])]),
      parts: [...touching.flatMap((group) => group.parts), part],
    };
    for (const group of touching) groups.splice(groups.indexOf(group), 1);
    groups.push(joined);
  }
  return groups.map((group) => group.parts);
}

/**
 * Grade of what a lot was made from, g/t dry: Σ massᵢ gradeᵢ ÷ Σ massᵢ, with u² = Σ (massᵢ uᵢ ÷ Σ mass)² over parts
 * that have nothing in common. Parts that rest on the same lot share its error: their massᵢ uᵢ are added before they
 * are squared (correlation 1, the widest it can be). Masses are taken as exact. Source: law of propagation of
 * uncertainty, JCGM 100:2008, eq. (10) and (16).
 */
export function gradeOfParts(
  parts: readonly { dryMassKg: string; grade: Measured; facts: MadeFromFacts }[],
): Measured {
  const totalKg = parts.reduce((sum, { dryMassKg }) => sum + Number(dryMassKg), 0);
  const shareOf = new Map(
    parts.map((part) => [part.facts, { ...part, share: Number(part.dryMassKg) / totalKg }]),
  );
  const value = [...shareOf.values()].reduce((sum, { share, grade }) => sum + share * grade.value, 0);
  const u = Math.hypot(
    ...kindred(parts.map(({ facts }) => facts)).map((group) =>
      group.reduce((sum, facts) => {
        const one = shareOf.get(facts);
        return one === undefined ? sum : sum + one.share * one.grade.u;
      }, 0),
    ),
  );
  return { value, u };
}

/**
 * What the parts of a lot say of its grade, as one assay with a stated uncertainty would. Nothing where the grade of a
 * part is not known: it would count as none.
 */
export function partObservation(
  parts: readonly MadeFromFacts[],
  metal: Metal,
): { observations: LabObservation[]; findings: Finding[] } {
  const known = parts.flatMap((facts) => {
    const grade = facts.gradeGpt[metal];
    return grade === null ? [] : [{ facts, grade, dryMassKg: facts.dryMassKg }];
  });
  if (known.length === 0) return { observations: [], findings: [] };
  const unknown = parts.filter((facts) => facts.gradeGpt[metal] === null);
  if (unknown.length > 0)
    return {
      observations: [],
      findings: [
        {
          code: 'part-grade-not-known',
          level: 'note',
          path: '/madeFrom',
          sentence: `The ${METAL_NAMES[metal]} of ${listed(unknown.map(({ code }) => code))} is not known, so that what the lot was made from says nothing of its ${METAL_NAMES[metal]}.`,
        },
      ],
    };
  const { value, u } = gradeOfParts(known);
  const names = listed(parts.map(({ code }) => code));
  return {
    observations: [{ gradeGpt: value, uGpt: u, label: `made from ${names}, by mass` }],
    findings: [
      {
        code: 'grade-of-parts-counted',
        level: 'note',
        path: '/madeFrom',
        sentence: `What ${names} hold by their own tests and assays counts here by mass, as one more assay of ${METAL_NAMES[metal]}.`,
      },
    ],
  };
}

/** A result as it is said: a share in percent, a grade in the owner's unit. */
function saidResult({ value, unit }: LotFacts['labAssays'][number], gradeUnit: string = 'g/t'): string {
  if (unit === 'percent') return `${value} %`;
  return gradeUnit === 'oz/short ton'
    ? `${(Number(value) / gptPerOzPerShortTon).toPrecision(3)} oz/short ton`
    : `${value} g/t`;
}

const keyOf = ({ laboratory, certificate, element, value, unit }: LotFacts['labAssays'][number]): string =>
  JSON.stringify([laboratory, certificate, element, Number(value), unit]);

/**
 * The facts of a lot without the assays that are those of its parts: one that names the same laboratory, certificate
 * and result is a copy, and counts with the part already.
 */
export function withoutAssaysOfParts<Facts extends Pick<EvidenceFacts, 'lot' | 'madeFrom' | 'units'>>(
  facts: Facts,
): { facts: Facts; findings: Finding[] } {
  const ofParts = new Map(
    (facts.madeFrom ?? []).flatMap((part) => part.labAssays.map((assay) => [keyOf(assay), part.code])),
  );
  const copied = facts.lot.labAssays.filter((assay) => ofParts.has(keyOf(assay)));
  if (copied.length === 0) return { facts, findings: [] };
  const lot = {
    ...facts.lot,
    labAssays: facts.lot.labAssays.filter((assay) => !ofParts.has(keyOf(assay))),
  };
  return {
    facts: { ...facts, lot },
    findings: copied.map((assay) => ({
      code: 'assay-of-part-copied',
      level: 'note',
      path: `/labAssays/${facts.lot.labAssays.indexOf(assay)}`,
      sentence: `The assay of ${assay.element} by ${assay.laboratory}, ${saidResult(assay, facts.units?.gradeUnit)}, is that of ${ofParts.get(keyOf(assay))} and counts with it, not once more.`,
    })),
  };
}
