import type { Measured } from '../measured.ts';

/**
 * Where uncertainty comes from. Two quantities that lean on the same source are correlated through it, so
 * sources are compared by identity: one object for each weighing, blank or correction.
 *
 * - weighing, sampling: fresh in every test, so replicates average it down
 * - shared: the same in every replicate (a blank, a correction, a lab's ratio), so replicates do not
 */
export interface UncertaintySource {
  name: string;
  kind: 'weighing' | 'sampling' | 'shared';
}

/**
 * A value whose uncertainty is kept apart by source: for each, the sensitivity times the standard
 * uncertainty, cᵢ·u(xᵢ), signed, in the unit of the value (JCGM 100:2008, clause 5.1.3). Arithmetic on such
 * values gives the law of propagation to first order with every correlation that shared sources cause, and
 * the uncertainty budget with it.
 */
export interface Traced {
  value: number;
  contributions: ReadonlyMap<UncertaintySource, number>;
}

/** An input quantity, uncertain through one source. */
export function traced(source: UncertaintySource, { value, u }: Measured): Traced {
  return { value, contributions: new Map([[source, u]]) };
}

/** A quantity known exactly. */
export function constant(value: number): Traced {
  return { value, contributions: new Map() };
}

function combine(value: number, a: Traced, sensitivityA: number, b: Traced, sensitivityB: number): Traced {
  const contributions = new Map<UncertaintySource, number>();
  for (const [source, part] of a.contributions) contributions.set(source, sensitivityA * part);
  for (const [source, part] of b.contributions) {
    contributions.set(source, (contributions.get(source) ?? 0) + sensitivityB * part);
  }
  return { value, contributions };
}

export function plus(a: Traced, b: Traced): Traced {
  return combine(a.value + b.value, a, 1, b, 1);
}

export function minus(a: Traced, b: Traced): Traced {
  return combine(a.value - b.value, a, 1, b, -1);
}

export function times(a: Traced, b: Traced): Traced {
  return combine(a.value * b.value, a, b.value, b, a.value);
}

/** a ÷ b; the caller refuses a zero divisor beforehand. */
export function over(a: Traced, b: Traced): Traced {
  return combine(a.value / b.value, a, 1 / b.value, b, -a.value / b.value ** 2);
}

export function scaledBy(a: Traced, factor: number): Traced {
  return times(a, constant(factor));
}

/** Value and combined standard uncertainty, u² = Σ(cᵢ·u(xᵢ))², of one kind of source or of all. */
export function measuredFrom(a: Traced, kinds?: readonly UncertaintySource['kind'][]): Measured {
  const parts = [...a.contributions].filter(([source]) => kinds === undefined || kinds.includes(source.kind));
  return { value: a.value, u: Math.hypot(...parts.map(([, part]) => part)) };
}

/** Covariance through the sources that two quantities share (JCGM 100:2008, F.1.2.3, eq. F.2). */
export function covariance(a: Traced, b: Traced): number {
  let total = 0;
  for (const [source, part] of a.contributions) total += part * (b.contributions.get(source) ?? 0);
  return total;
}
