import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { mean, standardDeviation } from '../statistics/sample.ts';
import { percentFigure } from './figures.ts';
import { measuredFrom, over, plus, scaledBy, times, traced } from './traced.ts';
import type { UncertaintySource } from './traced.ts';
import { weighedG } from './weighing.ts';
import type { Balance } from './weighing.ts';

export interface ScreenMetallics {
  /** What stayed on the screen, assayed whole. */
  coarse: { massG: number; metalMg: Measured };
  /** What passed, and the assays of samples of it. */
  fine: { massG: number; gradesGpt: Measured[] };
  balance: Balance;
}

const sources = {
  coarseMass: { name: 'weighing the coarse part', kind: 'weighing' },
  fineMass: { name: 'weighing the fine part', kind: 'weighing' },
  coarseMetal: { name: 'metal of the coarse part', kind: 'weighing' },
  fineGrade: { name: 'assay of the fine part', kind: 'sampling' },
} satisfies Record<string, UncertaintySource>;

/** From this share on the screen has paid for itself: a sample of the whole would have scattered (common practice). */
const muchCoarse = 0.3;

/**
 * Grade of a sample with metallics: grade = (metal of the coarse part + fine grade × fine mass)/(both masses),
 * g/t. Each part is worked as if from another ore and weighted by its mass: C. and J. J. Beringer, *A Text-book of
 * Assaying*, 9th ed. 1904, "ores containing metallic particles". Several assays of the fine part are averaged; the
 * uncertainty of their mean is the larger of their scatter and of what each states, over √n.
 */
export function workScreenMetallics({ coarse, fine, balance }: ScreenMetallics): {
  gradeGpt: Measured | null;
  /** Share of all metal that stayed on the screen. */
  coarseShareFrac: Measured | null;
  findings: Finding[];
} {
  const n = fine.gradesGpt.length;
  if (n === 0 || !(coarse.massG >= 0 && fine.massG > 0)) {
    return {
      gradeGpt: null,
      coarseShareFrac: null,
      findings: [
        {
          code: 'fine-part-missing',
          level: 'blocker',
          path: '/fine',
          sentence:
            'The fine part needs a mass above zero and at least one assay; the grade could not be worked out.',
        },
      ],
    };
  }
  const values = fine.gradesGpt.map(({ value }) => value);
  const stated = Math.hypot(...fine.gradesGpt.map(({ u }) => u)) / Math.sqrt(n);
  const scatter = n > 1 ? standardDeviation(values) : 0;
  const fineGrade = traced(sources.fineGrade, {
    value: mean(values),
    u: Math.max(stated, scatter) / Math.sqrt(n),
  });
  const coarseMass = traced(sources.coarseMass, weighedG({ massG: coarse.massG, balance }));
  const fineMass = traced(sources.fineMass, weighedG({ massG: fine.massG, balance }));
  const coarseMetal = scaledBy(traced(sources.coarseMetal, coarse.metalMg), 1000);
  const metal = plus(coarseMetal, times(fineGrade, fineMass));
  const coarseShareFrac = metal.value > 0 ? measuredFrom(over(coarseMetal, metal)) : null;
  const findings: Finding[] = [];
  if (coarseShareFrac && coarseShareFrac.value > muchCoarse) {
    findings.push({
      code: 'much-metal-coarse',
      level: 'note',
      path: '/coarse',
      sentence: `${percentFigure(coarseShareFrac.value)} of the metal stayed on the screen; samples of this lot that are not screened will scatter.`,
    });
  }
  return { gradeGpt: measuredFrom(over(metal, plus(coarseMass, fineMass))), coarseShareFrac, findings };
}
