import { incompleteGamma } from './gamma.ts';

/** Density of the standard normal distribution, e^(−z²/2)/√(2π). */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
}

/** Probability that a standard normal value lies below z; both tails keep their figures (z = −30 gives 4.9e-198). */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) return Number.NaN;
  const { lower, upper } = incompleteGamma(0.5, 0.5 * z * z);
  return z < 0 ? 0.5 * upper : 0.5 + 0.5 * lower;
}

const ratio = (numerator: readonly number[], denominator: readonly number[], r: number): number =>
  horner(numerator, r) / horner(denominator, r);

const horner = (coefficients: readonly number[], r: number): number =>
  coefficients.reduceRight((total, c) => total * r + c, 0);

const CENTRE_TOP = [
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987,
  67265.7709270087, 33430.57558358813, 2509.0809287301227,
];
const CENTRE_BOTTOM = [
  1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271,
  28729.085735721943, 5226.495278852854,
];
const SHOULDER_TOP = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684,
  0.2417807251774506, 0.022723844989269184, 0.0007745450142783414,
];
const SHOULDER_BOTTOM = [
  1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
  0.0005475938084995345, 1.0507500716444169e-9,
];
const TAIL_TOP = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
  0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7,
];
const TAIL_BOTTOM = [
  1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133,
  1.8463183175100548e-5, 1.421511758316446e-7, 2.0442631033899397e-15,
];

/**
 * Standard normal quantile: the z below which a share `probability` lies; ∓∞ at 0 and 1, NaN outside.
 * M. J. Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37 (1988), 477; about 16 figures.
 */
export function normalQuantile(probability: number): number {
  if (!(probability >= 0 && probability <= 1)) return Number.NaN;
  const q = probability - 0.5;
  if (Math.abs(q) <= 0.425) return q * ratio(CENTRE_TOP, CENTRE_BOTTOM, 0.180625 - q * q);
  const tail = q < 0 ? probability : 1 - probability;
  if (tail === 0) return q < 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const r = Math.sqrt(-Math.log(tail));
  const z = r <= 5 ? ratio(SHOULDER_TOP, SHOULDER_BOTTOM, r - 1.6) : ratio(TAIL_TOP, TAIL_BOTTOM, r - 5);
  return q < 0 ? -z : z;
}
