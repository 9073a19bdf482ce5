import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { figure, gptUnit, gradeFigure, percentFigure } from './figures.ts';
import type { GradeUnit } from './figures.ts';
import { measuredFrom, minus, over, plus, scaledBy, times, traced } from './traced.ts';
import type { Traced } from './traced.ts';
import { weighedG } from './weighing.ts';
import type { Balance } from './weighing.ts';

/** A product of a smelt that may hold metal back. */
export interface AssayedProduct {
  name: string;
  massG: number;
  /** Null where it was not assayed. */
  gradeGpt: Measured | null;
}

export interface MetalClosureInput {
  /** How the metal is called in a sentence. */
  metal: string;
  sampleMassG: number;
  sampleBalance: Balance;
  /** Metal of the sample that came into the bead, blank taken off. */
  beadMetalMg: Measured;
  /** Matte, speiss, slag, cupel: whatever was weighed. */
  products: AssayedProduct[];
  /** Lab assay of the sample as received. */
  headGpt: Measured | null;
  /** The unit of grades in sentences. */
  gradeUnit?: GradeUnit;
}

export interface MetalClosure {
  /** Metal found in bead and assayed products, mg. */
  foundMg: Measured;
  /** Grade built up from what was found: at least this much was in the sample, g/t. */
  builtUpHeadGpt: Measured;
  /** Bead and each assayed product, with its share of all metal found. */
  shares: { name: string; metalMg: Measured; shareFrac: Measured }[];
  headMg: Measured | null;
  /** Found over head assay; 1 when everything is accounted for. */
  closureFrac: Measured | null;
  /** Head less found; negative when more was found than was there. */
  unaccountedMg: Measured | null;
  /** Bead over head assay, or over all that was found where there is no head assay. */
  recoveryFrac: Measured;
  findings: Finding[];
}

/**
 * Where a metal of a test smelt went: bead + Σ product mass × its assay, against sample mass × head assay, with the
 * uncertainty of every weighing and assay (law of propagation, JCGM 100:2008, 5.1). Null where the sample mass or
 * all metal found is not above zero.
 */
export function closeMetal(input: MetalClosureInput): MetalClosure | null {
  const { sampleMassG, sampleBalance: balance, headGpt } = input;
  if (!(sampleMassG > 0)) return null;
  const weighed = (name: string, massG: number): Traced =>
    traced({ name: `weighing the ${name}`, kind: 'weighing' }, weighedG({ massG, balance }));
  const mgFrom = (mass: Traced, name: string, gradeGpt: Measured): Traced =>
    scaledBy(times(mass, traced({ name: `assay of the ${name}`, kind: 'shared' }, gradeGpt)), 1e-3);

  const sample = weighed('sample', sampleMassG);
  const bead = traced({ name: 'metal in the bead', kind: 'weighing' }, input.beadMetalMg);
  const held = [
    { name: 'bead', metal: bead },
    ...input.products.flatMap(({ name, massG, gradeGpt }) =>
      gradeGpt === null ? [] : [{ name, metal: mgFrom(weighed(name, massG), name, gradeGpt) }],
    ),
  ];
  const found = held.slice(1).reduce((total, { metal }) => plus(total, metal), bead);
  if (!(found.value > 0)) return null;
  const head = headGpt && headGpt.value > 0 ? mgFrom(sample, 'head', headGpt) : null;
  const unaccounted = head && measuredFrom(minus(head, found));

  return {
    foundMg: measuredFrom(found),
    builtUpHeadGpt: measuredFrom(scaledBy(over(found, sample), 1000)),
    shares: held.map(({ name, metal }) => ({
      name,
      metalMg: measuredFrom(metal),
      shareFrac: measuredFrom(over(metal, found)),
    })),
    headMg: head && measuredFrom(head),
    closureFrac: head && measuredFrom(over(found, head)),
    unaccountedMg: unaccounted,
    recoveryFrac: measuredFrom(over(bead, head ?? found)),
    findings: [...closureFindings(input, unaccounted), ...productFindings(input, unaccounted)],
  };
}

function closureFindings({ metal, headGpt }: MetalClosureInput, unaccounted: Measured | null): Finding[] {
  if (unaccounted === null) {
    return [
      {
        code: 'head-assay-missing',
        level: 'note',
        path: headGpt === null ? '/headGpt' : '/headGpt/value',
        sentence: `Without a head assay the recovery is of the ${metal} that was found, and what went to fume or unassayed products is not seen.`,
      },
    ];
  }
  const { value, u } = unaccounted;
  if (Math.abs(value) <= 2 * u) return [];
  return [
    {
      code: value > 0 ? 'metal-unaccounted' : 'more-metal-than-head',
      level: 'warning',
      path: '/headGpt',
      sentence:
        value > 0
          ? `${figure(value)} ± ${figure(2 * u)} mg of ${metal} by the head assay is not in the bead nor in an assayed product: it is in what was not assayed, lost, or the head assay is high.`
          : `${figure(-value)} ± ${figure(2 * u)} mg more ${metal} was found than the head assay puts into the sample: coarse metal, silver of the lead, or a low head assay.`,
    },
  ];
}

function productFindings(
  { metal, products, headGpt, gradeUnit = gptUnit }: MetalClosureInput,
  unaccounted: Measured | null,
): Finding[] {
  return products.flatMap(({ name, massG, gradeGpt }, i): Finding[] => {
    if (gradeGpt !== null || massG === 0) return [];
    const wouldHold =
      unaccounted && headGpt && unaccounted.value > 0
        ? ` If it held all that is unaccounted for it would run ${gradeFigure((1000 * unaccounted.value) / massG, gradeUnit)} ${gradeUnit.name}, ${percentFigure((1000 * unaccounted.value) / massG / headGpt.value)} of the head.`
        : '';
    return [
      {
        code: 'product-not-assayed',
        level: 'note',
        path: `/products/${i}/gradeGpt`,
        sentence: `The ${name}, ${figure(massG)} g, was not assayed, so its ${metal} is not counted.${wouldHold}`,
      },
    ];
  });
}
