/** What Gy's formula has to know of the material that is sampled. */
export interface SampledMaterial {
  /** Size that 95 % passes, mm. */
  topSizeMm: number;
  /** Size below which the mineral that carries the metal is free of the rest, mm. */
  liberationSizeMm: number;
  /** That mineral, as a fraction of the mass, above 0 and below 1. */
  mineralFrac: number;
  mineralDensityGpml: number;
  gangueDensityGpml: number;
  /** f: 0.5 for common grains, 0.2 for flakes such as flat gold, 1 for cubes. */
  shapeFactor?: number;
  /** g: 0.25 for unscreened material, 0.5 to 0.75 between screens, 1 for one size. */
  sizeRangeFactor?: number;
  /** Power b of (liberation size/top size): Gy's 0.5; for gold 1.5 has been proposed (D. François-Bongarçon, P. Gy, J. SAIMM 102, 2002, 481). */
  liberationExponent?: number;
}

/**
 * Gy's sampling constant, C = f·g·c·l in g/cm³. Composition factor c = (1 − a)/a × [(1 − a)ρ + aγ] with a the
 * fraction, ρ the density of the mineral and γ that of the gangue; liberation l = (liberation size/top size)^b,
 * at most 1. P. M. Gy, *Sampling of Particulate Materials* (1979); in this form B. A. Wills, *Mineral Processing
 * Technology*, chapter on sampling.
 */
export function gyConstantGpml(material: SampledMaterial): number {
  const { shapeFactor = 0.5, sizeRangeFactor = 0.25, liberationExponent = 0.5, mineralFrac: a } = material;
  const composition =
    ((1 - a) / a) * ((1 - a) * material.mineralDensityGpml + a * material.gangueDensityGpml);
  const liberation = Math.min(1, (material.liberationSizeMm / material.topSizeMm) ** liberationExponent);
  return shapeFactor * sizeRangeFactor * composition * liberation;
}

/** C·d³ with d in cm: the mass, g, at which the relative standard deviation would be 1. */
function unitErrorMassG(material: SampledMaterial): number {
  return gyConstantGpml(material) * (material.topSizeMm / 10) ** 3;
}

/**
 * Relative standard deviation of the fundamental sampling error, s² = C·d³·(1/M_sample − 1/M_lot), d in cm and
 * masses in g; no lot mass means a lot far larger than the sample. 0 where the sample is the whole lot. It is the
 * least error a well-mixed lot allows: segregation and bad splitting come on top.
 */
export function gyRelativeSd({
  material,
  sampleMassG,
  lotMassG = null,
}: {
  material: SampledMaterial;
  sampleMassG: number;
  lotMassG?: number | null;
}): number {
  const left = 1 / sampleMassG - (lotMassG === null ? 0 : 1 / lotMassG);
  return Math.sqrt(unitErrorMassG(material) * Math.max(0, left));
}

/** Mass, g, of the sample that brings the fundamental sampling error down to a relative standard deviation. */
export function gySampleMassG({
  material,
  relativeSd,
  lotMassG = null,
}: {
  material: SampledMaterial;
  relativeSd: number;
  lotMassG?: number | null;
}): number {
  return 1 / (relativeSd ** 2 / unitErrorMassG(material) + (lotMassG === null ? 0 : 1 / lotMassG));
}
