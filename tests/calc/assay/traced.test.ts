import { describe, expect, it } from 'vitest';
import {
  constant,
  covariance,
  measuredFrom,
  minus,
  over,
  plus,
  scaledBy,
  times,
  traced,
} from '../../../api/calc/assay/traced.ts';
import type { Traced, UncertaintySource } from '../../../api/calc/assay/traced.ts';
import { mean, standardDeviation } from '../../../api/calc/statistics/sample.ts';

const source = (name: string): UncertaintySource => ({ name, kind: 'weighing' });

/** f(a) to first order, for a function that the assay itself does not need. */
function mapped(a: Traced, value: number, slope: number): Traced {
  return { ...scaledBy(a, slope), value };
}

describe('uncertainty by source', () => {
  // JCGM 100:2008, example H.2, Tables H.2 to H.4: five simultaneous readings of voltage (V), current (A) and phase,
  // whose means are correlated; R = V/I·cos φ 127.732 ± 0.071 Ω, X = V/I·sin φ 219.847 ± 0.295 Ω, Z = V/I
  // 254.260 ± 0.236 Ω, r(R, X) −0.588, r(R, Z) −0.485, r(X, Z) 0.993.
  it('works the resistance and reactance of GUM H.2, correlations and all', () => {
    const readings = [
      [5.007, 4.994, 5.005, 4.99, 4.999],
      [0.019663, 0.019639, 0.01964, 0.019685, 0.019678],
      [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
    ];
    const means = readings.map((values) => mean(values));
    const covarianceOfMeans = (i: number, j: number): number => {
      const x = readings[i] ?? [];
      const y = readings[j] ?? [];
      return x.reduce((total, value, k) => total + (value - mean(x)) * ((y[k] ?? 0) - mean(y)), 0) / 20;
    };
    // Correlated means as sums of three independent sources: the Cholesky factor of their covariance matrix.
    const factor: number[][] = [[], [], []];
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j <= i; j++) {
        const known = Array.from({ length: j }, (_, k) => (factor[i]?.[k] ?? 0) * (factor[j]?.[k] ?? 0));
        const rest = covarianceOfMeans(i, j) - known.reduce((total, part) => total + part, 0);
        factor[i]![j] = i === j ? Math.sqrt(rest) : rest / (factor[j]?.[j] ?? 1);
      }
    }
    const sources = [source('first'), source('second'), source('third')];
    const [voltage, current, phase] = means.map((value, i): Traced => ({
      value,
      contributions: new Map(sources.map((one, k) => [one, factor[i]?.[k] ?? 0])),
    })) as [Traced, Traced, Traced];

    const impedance = over(voltage, current);
    const cosine = mapped(phase, Math.cos(phase.value), -Math.sin(phase.value));
    const sine = mapped(phase, Math.sin(phase.value), Math.cos(phase.value));
    const resistance = times(impedance, cosine);
    const reactance = times(impedance, sine);
    const correlation = (a: Traced, b: Traced) => covariance(a, b) / (measuredFrom(a).u * measuredFrom(b).u);

    expect(measuredFrom(resistance).value).toBeCloseTo(127.732, 3);
    expect(measuredFrom(resistance).u).toBeCloseTo(0.071, 3);
    expect(measuredFrom(reactance).value).toBeCloseTo(219.847, 3);
    // Printed 0.295 from rounded correlations; unrounded 0.2956.
    expect(measuredFrom(reactance).u).toBeCloseTo(0.2956, 3);
    expect(measuredFrom(impedance).value).toBeCloseTo(254.26, 2);
    expect(measuredFrom(impedance).u).toBeCloseTo(0.236, 3);
    expect(correlation(resistance, reactance)).toBeCloseTo(-0.588, 3);
    expect(correlation(resistance, impedance)).toBeCloseTo(-0.485, 3);
    expect(correlation(reactance, impedance)).toBeCloseTo(0.993, 3);
    expect(standardDeviation(readings[0] ?? []) / Math.sqrt(5)).toBeCloseTo(0.0032, 4);
  });

  // JCGM 101:2008, 9.3 (mass calibration), Table 10, first-order law of propagation: 1.2340 mg, u 0.0539 mg (from
  // memory). The air density lies at its conventional value, so the densities drop out to first order.
  it('gives the first-order result of the mass calibration of JCGM 101', () => {
    const rectangular = (low: number, high: number) => ({
      value: (low + high) / 2,
      u: (high - low) / Math.sqrt(12),
    });
    const reference = traced(source('reference weight'), { value: 100_000, u: 0.05 });
    const added = traced(source('small weight'), { value: 1.234, u: 0.02 });
    const airDensity = traced(source('air density'), rectangular(1.1, 1.3));
    const density = traced(source('density of the weight'), rectangular(7000, 9000));
    const referenceDensity = traced(source('density of the reference'), rectangular(7950, 8050));
    const buoyancy = times(
      minus(airDensity, constant(1.2)),
      minus(over(constant(1), density), over(constant(1), referenceDensity)),
    );
    const deviation = minus(times(plus(reference, added), plus(constant(1), buoyancy)), constant(100_000));
    expect(measuredFrom(deviation).value).toBeCloseTo(1.234, 4);
    expect(measuredFrom(deviation).u).toBeCloseTo(0.0539, 4);
  });

  it('cancels what two quantities share', () => {
    const a = traced(source('one weighing'), { value: 10, u: 1 });
    expect(measuredFrom(minus(a, a))).toEqual({ value: 0, u: 0 });
    expect(measuredFrom(over(a, a))).toEqual({ value: 1, u: 0 });
    expect(measuredFrom(plus(a, a))).toEqual({ value: 20, u: 2 });
    expect(measuredFrom(times(a, a)).u).toBeCloseTo(20, 12);
  });

  it('tells the kinds of source apart', () => {
    const shared = traced({ name: 'blank', kind: 'shared' }, { value: 1, u: 4 });
    const both = plus(traced(source('weighing'), { value: 1, u: 3 }), shared);
    expect(measuredFrom(both).u).toBe(5);
    expect(measuredFrom(both, ['weighing']).u).toBe(3);
    expect(measuredFrom(both, ['shared', 'sampling']).u).toBe(4);
  });
});
