import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { chiSquareUpperTail } from '../statistics/chi-square.ts';
import { findRoot } from '../statistics/root.ts';
import { studentTQuantile } from '../statistics/student-t.ts';
import { chanceFigure, figure } from './figures.ts';

/** One laboratory's result for one element of a lot. */
export interface LabAssay {
  laboratory: string;
  value: number;
  /** Standard uncertainty in the same unit; null where the laboratory does not state one. */
  u: number | null;
}

export type AssayUnit = 'g/t' | '%';

export interface CombinedLabAssay {
  method: 'single assay' | 'random effects, Paule–Mandel' | null;
  combined: Measured | null;
  interval95: { low: number; high: number } | null;
  /** Standard deviation between laboratories beyond what they state. */
  betweenLabSd: number;
  /** Weight of each assay handed in, adding up to 1; 0 for one that was left out. */
  weights: number[];
  /** Cochran's test that the laboratories agree within what they state; null for fewer than two. */
  agreement: { q: number; degreesOfFreedom: number; p: number } | null;
  findings: Finding[];
}

/**
 * Between-laboratory standard deviation that analysis at a given content usually shows, used where a
 * laboratory states none. With c the mass fraction: 0.22 c below 1.2e-7, 0.02 c^0.8495 up to 0.138, 0.01 c^0.5
 * above. M. Thompson, "Recent trends in inter-laboratory precision at ppb and sub-ppb concentrations…",
 * Analyst 125 (2000), 385, after W. Horwitz. Result in the unit of the value.
 */
export function usualAssayUncertainty({ value, unit }: { value: number; unit: AssayUnit }): number {
  const perUnit = unit === '%' ? 1e-2 : 1e-6;
  const c = value * perUnit;
  if (c < 1.2e-7) return 0.22 * value;
  return (c <= 0.138 ? 0.02 * c ** 0.8495 : 0.01 * Math.sqrt(c)) / perUnit;
}

/**
 * Combines several laboratories' assays of one element of one lot. Laboratories differ by more than each
 * states, so the mean allows for a spread τ between them: weights 1/(u² + τ²), with τ² such that
 * Σ w(x − x̄)² = n − 1, or 0 where they agree already (R. C. Paule and J. Mandel, J. Res. NBS 87, 1982, 377);
 * u² = 1/Σw. The 95 % interval takes t with n − 1 degrees of freedom where τ had to be estimated, the normal
 * value where not. A single assay passes through. Assays below zero, or without a usable uncertainty, are
 * left out and said; null if none is left.
 */
export function combineLabAssays({
  element,
  unit,
  assays,
}: {
  element: string;
  unit: AssayUnit;
  assays: readonly LabAssay[];
}): CombinedLabAssay {
  const { admitted, findings } = admit(element, unit, assays);
  const n = admitted.length;
  const first = admitted[0];
  if (first === undefined) {
    findings.push({
      code: 'no-lab-assay',
      level: 'blocker',
      path: '/assays',
      sentence: `There is no usable lab assay of ${element}, so none could be worked out.`,
    });
    return {
      method: null,
      combined: null,
      interval95: null,
      betweenLabSd: 0,
      weights: assays.map(() => 0),
      agreement: null,
      findings,
    };
  }
  const q = weighted(admitted, 0).sumOfSquares;
  const betweenVariance = n > 1 ? pauleMandelVariance(admitted) : 0;
  const { mean, totalWeight, weights } = weighted(admitted, betweenVariance);
  const u = 1 / Math.sqrt(totalWeight);
  const agreement =
    n > 1 ? { q, degreesOfFreedom: n - 1, p: chiSquareUpperTail({ x: q, degreesOfFreedom: n - 1 }) } : null;
  if (agreement && agreement.p < 0.05) {
    findings.push({
      code: 'labs-disagree',
      level: 'warning',
      path: '/assays',
      sentence: `The ${n} laboratories differ in ${element} by more than they state (chance alone: ${chanceFigure(agreement.p)}); a spread between them of ${figure(Math.sqrt(betweenVariance))} ${unit} is allowed for. An umpire assay would help.`,
    });
  }
  const t = studentTQuantile({
    probability: 0.975,
    degreesOfFreedom: betweenVariance > 0 ? n - 1 : Number.POSITIVE_INFINITY,
  });
  return {
    method: n === 1 ? 'single assay' : 'random effects, Paule–Mandel',
    combined: { value: mean, u },
    interval95: { low: mean - t * u, high: mean + t * u },
    betweenLabSd: Math.sqrt(betweenVariance),
    weights: assays.map((_, i) => {
      const place = admitted.findIndex((assay) => assay.index === i);
      return place < 0 ? 0 : (weights[place] ?? 0) / totalWeight;
    }),
    agreement,
    findings,
  };
}

interface Admitted extends Measured {
  index: number;
}

function admit(element: string, unit: AssayUnit, assays: readonly LabAssay[]) {
  const findings: Finding[] = [];
  const admitted: Admitted[] = [];
  for (const [index, { laboratory, value, u }] of assays.entries()) {
    const stated = u !== null && Number.isFinite(u) && u > 0;
    const uUsed = stated ? u : usualAssayUncertainty({ value, unit });
    if (!(Number.isFinite(value) && value >= 0 && uUsed > 0)) {
      findings.push({
        code: 'lab-assay-left-out',
        level: 'warning',
        path: `/assays/${index}`,
        sentence: `The assay of ${element} by ${laboratory}, ${figure(value)} ${unit}, is left out: it must be zero or more, and a zero needs a stated uncertainty.`,
      });
      continue;
    }
    admitted.push({ index, value, u: uUsed });
    if (stated) continue;
    findings.push({
      code: 'lab-uncertainty-not-stated',
      level: 'note',
      path: `/assays/${index}/u`,
      sentence: `${laboratory} states no uncertainty for ${element}; ± ${figure(2 * uUsed, 2)} ${unit} is taken, which is what laboratories usually differ by at this content (Horwitz and Thompson). Ask the laboratory for its own.`,
    });
  }
  return { admitted, findings };
}

function weighted(assays: readonly Measured[], betweenVariance: number) {
  const weights = assays.map((assay) => 1 / (assay.u ** 2 + betweenVariance));
  const totalWeight = weights.reduce((total, w) => total + w, 0);
  const mean = assays.reduce((total, assay, i) => total + assay.value * (weights[i] ?? 0), 0) / totalWeight;
  const sumOfSquares = assays.reduce(
    (total, assay, i) => total + (weights[i] ?? 0) * (assay.value - mean) ** 2,
    0,
  );
  return { weights, totalWeight, mean, sumOfSquares };
}

/**
 * Variance between sources beyond what each states: the τ² at which Σ (x − x̄)²/(u² + τ²) = n − 1, or 0 where they
 * agree already (R. C. Paule and J. Mandel, J. Res. NBS 87, 1982, 377).
 */
export function pauleMandelVariance(assays: readonly Measured[]): number {
  const excess = (variance: number): number => weighted(assays, variance).sumOfSquares - (assays.length - 1);
  if (excess(0) <= 0) return 0;
  const values = assays.map((assay) => assay.value);
  // At τ² = range² × n no assay can be more than 1/√n standard deviations off, so the sum is below n − 1.
  const high = (Math.max(...values) - Math.min(...values)) ** 2 * assays.length;
  return findRoot(excess, { low: 0, high });
}
