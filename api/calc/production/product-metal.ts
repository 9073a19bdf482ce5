import { usualAssayUncertainty } from '../assay/lab-assay.ts';
import type { Metal } from '../evidence/lot-evidence.ts';
import type { Measured } from '../measured.ts';
import { containedMetalG } from './contained-metal.ts';

const GPT_PER_FRAC = 1e6;

/** What a product's metal is worked from. Decimal texts; uncertainties are standard uncertainties, null where not stated. */
export interface WeighedProduct {
  kind: string;
  /** As weighed when it was made; a parcel is wet. */
  massKg: string;
  /** Of what is spoken of now. */
  leftDryKg: string;
  /** Dry part of a kg as weighed. */
  dryShare: string;
  goldFinenessFrac: string | null;
  silverFinenessFrac: string | null;
  massStandardUncertaintyKg: string | null;
  goldStandardUncertaintyFrac: string | null;
  silverStandardUncertaintyFrac: string | null;
}

/** Standard uncertainties of the mill's scales: of the one for lots as a fraction, of the one for bars in g. */
export interface MillScales {
  lotScaleUncertaintyFrac: string;
  barScaleUncertaintyG: string;
}

/** Dry mass of what is spoken of, kg, with the scale's uncertainty where none is stated. */
export function productMass(product: WeighedProduct, scales: MillScales): Measured {
  const onBarScale = product.kind === 'bar' || product.kind === 'bead';
  const ofScale = onBarScale
    ? Number(scales.barScaleUncertaintyG) / 1000
    : Number(scales.lotScaleUncertaintyFrac) * Number(product.massKg);
  const stated = product.massStandardUncertaintyKg;
  return {
    value: Number(product.leftDryKg),
    u: (stated === null ? ofScale : Number(stated)) * Number(product.dryShare),
  };
}

function assayed(frac: string | null, u: string | null): Measured | null {
  if (frac === null) return null;
  const value = GPT_PER_FRAC * Number(frac);
  return { value, u: u === null ? usualAssayUncertainty({ value, unit: 'g/t' }) : GPT_PER_FRAC * Number(u) };
}

/**
 * What a product holds, g/t dry: its own assay, with the usual uncertainty where none is stated; a parcel without one
 * holds what its lot holds. Null where nothing says.
 */
export function productGrade(
  product: Pick<
    WeighedProduct,
    | 'kind'
    | 'goldFinenessFrac'
    | 'silverFinenessFrac'
    | 'goldStandardUncertaintyFrac'
    | 'silverStandardUncertaintyFrac'
  >,
  lotGrade: Record<Metal, Measured | null>,
): Record<Metal, { gradeGpt: Measured; ofLot: boolean } | null> {
  const of = (metal: Metal, own: Measured | null) => {
    const ofLot = own === null && product.kind === 'parcel';
    const gradeGpt = ofLot ? lotGrade[metal] : own;
    return gradeGpt && { gradeGpt, ofLot };
  };
  return {
    Au: of('Au', assayed(product.goldFinenessFrac, product.goldStandardUncertaintyFrac)),
    Ag: of('Ag', assayed(product.silverFinenessFrac, product.silverStandardUncertaintyFrac)),
  };
}

/** Gold and silver in a product, g, the uncertainties of weighing and assay together (JCGM 100:2008, eq. 12). */
export function productMetal(
  product: WeighedProduct,
  scales: MillScales,
  lotGrade: Record<Metal, Measured | null>,
): Record<Metal, Measured | null> {
  const grades = productGrade(product, lotGrade);
  const mass = productMass(product, scales);
  const of = (metal: Metal) => containedMetalG(mass, grades[metal]?.gradeGpt ?? null);
  return { Au: of('Au'), Ag: of('Ag') };
}
