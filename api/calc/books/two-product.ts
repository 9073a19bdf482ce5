import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';

export interface TwoProduct {
  /** Concentrate from one part of feed, by dry mass. */
  yieldFrac: Measured;
  /** Share of the metal of the feed that is in the concentrate. */
  recoveryFrac: Measured;
}

/**
 * Yield and recovery of a separation from the assays of its three streams alone.
 *
 * Y = (f − t) / (c − t), R = Y·c / f; f, c, t [one unit, g/t] grades of feed, concentrate and tailings.
 * First-order uncertainty of independent assays: ∂Y/∂f = 1/(c−t), ∂Y/∂c = −(f−t)/(c−t)², ∂Y/∂t = (f−c)/(c−t)²;
 * ∂R/∂f = c·t/(f²(c−t)), ∂R/∂c = −t(f−t)/(f(c−t)²), ∂R/∂t = c(f−c)/(f(c−t)²).
 * Null with a blocker unless c > f > t ≥ 0; a warning where the uncertainty of the recovery is above 0.05, as it is
 * whenever tailings and feed are nearly alike.
 * Source: B. A. Wills, Wills' Mineral Processing Technology, ch. 3 (two-product formula; from memory);
 * JCGM 100:2008, 5.1.2. Example: f 2.1, c 33.5, t 0.19 gives R 0.9147.
 */
export function twoProduct({
  feedGrade: f,
  concentrateGrade: c,
  tailingsGrade: t,
}: {
  feedGrade: Measured;
  concentrateGrade: Measured;
  tailingsGrade: Measured;
}): { result: TwoProduct | null; findings: Finding[] } {
  if (!(t.value >= 0 && f.value > t.value && c.value > f.value))
    return {
      result: null,
      findings: [
        {
          code: 'two-product-order',
          level: 'blocker',
          path: '',
          sentence:
            `Recovery cannot be worked out from assays of ${text(f.value)} in the feed, ${text(c.value)} in the concentrate ` +
            `and ${text(t.value)} in the tailings: the concentrate must be the richest and the tailings the poorest.`,
        },
      ],
    };
  const spread = c.value - t.value;
  const yieldFrac = (f.value - t.value) / spread;
  const result: TwoProduct = {
    yieldFrac: {
      value: yieldFrac,
      u: Math.hypot(f.u / spread, (yieldFrac * c.u) / spread, ((f.value - c.value) * t.u) / spread ** 2),
    },
    recoveryFrac: {
      value: (yieldFrac * c.value) / f.value,
      u: Math.hypot(
        (c.value * t.value * f.u) / (f.value ** 2 * spread),
        (t.value * yieldFrac * c.u) / (f.value * spread),
        (c.value * (f.value - c.value) * t.u) / (f.value * spread ** 2),
      ),
    },
  };
  const findings: Finding[] =
    result.recoveryFrac.u <= 0.05
      ? []
      : [
          {
            code: 'two-product-uncertain',
            level: 'warning',
            path: '',
            sentence:
              `Recovery from assays alone is known only to ± ${Math.round(200 * result.recoveryFrac.u)} points here: ` +
              'feed and tailings are too much alike for their assays.',
          },
        ];
  return { result, findings };
}

function text(value: number): string {
  return String(Number(value.toPrecision(4)));
}
