import { mean, standardDeviation } from '../statistics/sample.ts';

/**
 * Ingamells' sampling constant from replicate samples of about one mass, g: K = m̄·R², R the relative standard
 * deviation in percent, so that K is the mass that holds the sampling error to 1 %. C. O. Ingamells, P. Switzer,
 * Talanta 20 (1973), 547. The scatter of the assay itself is in R, so K comes out rather high. Null with fewer
 * than two samples or a mean that is not above zero.
 */
export function ingamellsConstantG(samples: readonly { massG: number; value: number }[]): number | null {
  const values = samples.map(({ value }) => value);
  const centre = mean(values);
  if (samples.length < 2 || !(centre > 0)) return null;
  const percent = (100 * standardDeviation(values)) / centre;
  return mean(samples.map(({ massG }) => massG)) * percent ** 2;
}

/** Sample mass, g, that holds the sampling error to a relative standard deviation (a fraction): K/(100 s)². */
export function ingamellsSampleMassG({
  constantG,
  relativeSd,
}: {
  constantG: number;
  relativeSd: number;
}): number {
  return constantG / (100 * relativeSd) ** 2;
}

/** The relative standard deviation (a fraction) that a sample mass leaves: √(K/m)/100. */
export function ingamellsRelativeSd({ constantG, massG }: { constantG: number; massG: number }): number {
  return Math.sqrt(constantG / massG) / 100;
}
