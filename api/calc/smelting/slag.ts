import type { Finding } from '../finding.ts';
import type { Reagent } from './reagents.ts';
import type { SlagOxygen, SlagPart } from './slag-oxides.ts';
import { slagOxygenPerGram } from './slag-oxides.ts';

/**
 * Between mono- and bisilicate; C. H. Fulton, *A Manual of Fire Assaying*, 2nd ed. 1911, p. 60, prefers mono-
 * or sesquisilicate, nearer to bisilicate for basic ores.
 */
export const silicateAim = { low: 1, value: 1.5, high: 2 } as const;

/** Oxygen in the acids and in the bases of a slag, mol. */
export function slagOxygen(parts: readonly SlagPart[]): SlagOxygen {
  return parts.reduce(
    (sum, { material, massG }) => {
      const perGram = slagOxygenPerGram(material);
      return { acid: sum.acid + massG * perGram.acid, base: sum.base + massG * perGram.base };
    },
    { acid: 0, base: 0 },
  );
}

/**
 * Silicate degree: oxygen in the acids (silica, and borax by its B2O3) over oxygen in the bases. 1 is a
 * mono- (singulo-) silicate 2MO·SiO2, 1.5 a sesqui-, 2 a bisilicate MO·SiO2. Null where there is no base.
 */
export function silicateDegree(parts: readonly SlagPart[]): number | null {
  const { acid, base } = slagOxygen(parts);
  return base > 0 ? acid / base : null;
}

/** The nearest name of a slag by its degree. */
export function silicateName(degree: number): string {
  if (degree < 0.75) return 'subsilicate';
  if (degree < 1.25) return 'monosilicate';
  if (degree < 1.75) return 'sesquisilicate';
  if (degree < 2.5) return 'bisilicate';
  return 'trisilicate or more acid';
}

/**
 * Grams of a reagent that bring a slag to a degree: x = (aim × base − acid) / (a − aim × b), with a and b the
 * oxygen in acid and base per gram of the reagent. Null where that reagent only leads away from the aim. 50 g
 * of quartz to bisilicate takes 88.2 g of soda ash or 185.7 g of litharge.
 */
export function reagentToReachDegree({
  parts,
  aimDegree,
  reagent,
}: {
  parts: readonly SlagPart[];
  aimDegree: number;
  reagent: Reagent;
}): number | null {
  const { acid, base } = slagOxygen(parts);
  const perGram = slagOxygenPerGram(reagent);
  const massG = (aimDegree * base - acid) / (perGram.acid - aimDegree * perGram.base);
  return Number.isFinite(massG) && massG >= 0 ? massG : null;
}

export interface SlagCorrection {
  degreeNow: number | null;
  /** What to add to reach the aim; null where the slag is there, or there is nothing to make a slag of. */
  add: { reagent: 'silica' | 'soda ash'; massG: number } | null;
  findings: Finding[];
}

/** Silica or soda ash that brings a slag to the aim: silica where it is too basic, soda where too acid. */
export function bringSlagToAim({
  parts,
  aimDegree = silicateAim.value,
}: {
  parts: readonly SlagPart[];
  aimDegree?: number;
}): SlagCorrection {
  const { acid, base } = slagOxygen(parts);
  const degreeNow = silicateDegree(parts);
  if (acid === 0 && base === 0) {
    const sentence =
      'Neither acid nor base goes to the slag: add borax, soda ash and silica, or no slag will form.';
    return { degreeNow, add: null, findings: [{ code: 'no-slag', level: 'blocker', path: '', sentence }] };
  }
  const reagent = acid < aimDegree * base ? 'silica' : 'soda ash';
  const massG = reagentToReachDegree({ parts, aimDegree, reagent }) ?? 0;
  const add = massG > 0 ? ({ reagent, massG } as const) : null;
  return { degreeNow, add, findings: outsideAim(degreeNow, add) };
}

function outsideAim(degreeNow: number | null, add: SlagCorrection['add']): Finding[] {
  const within = degreeNow !== null && degreeNow >= silicateAim.low && degreeNow <= silicateAim.high;
  if (within || add === null) return [];
  const now = degreeNow === null ? 'has no base' : `has a silicate degree of ${degreeNow.toFixed(2)}`;
  const meaning =
    add.reagent === 'silica' ? 'it is too basic and eats the crucible' : 'it is too acid and stiff';
  return [
    {
      code: add.reagent === 'silica' ? 'slag-too-basic' : 'slag-too-acid',
      level: 'warning',
      path: '',
      sentence:
        `The slag ${now}: ${meaning}; ${silicateAim.low} to ${silicateAim.high} is the aim. ` +
        `${add.massG.toFixed(1)} g of ${add.reagent} would bring it there.`,
    },
  ];
}
