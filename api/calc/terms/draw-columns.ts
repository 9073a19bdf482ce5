import type { EstimateParcel } from './estimate-parts.ts';

/** A figure of every draw: `scale` × `values[n]`, or `scale` itself where nothing varies. */
export interface Column {
  scale: number;
  values: Float64Array | null;
}

/** All draws of a parcel at once; the fields and units of `EstimateParcel`. */
export interface ParcelDraws {
  drawCount: number;
  wetMassKg: Column;
  dryMassKg: Column;
  assays: Record<string, Column>;
  prices: Record<string, Column>;
}

/** What every draw of a parcel would bring; the fields of `ParcelEstimate`. */
export interface EstimateDraws {
  goldPayableOzt: Float64Array;
  silverPayableOzt: Float64Array;
  paymentValue: Float64Array;
  netValue: Float64Array;
  /** Share of the draws in which the buyer may refuse the parcel. */
  refusedFrac: number;
}

/** A stretch of draws on its way through a contract; the columns begin with draw `from`. */
export interface Stretch {
  from: number;
  to: number;
  payable: Float64Array;
  charged: Float64Array;
  /** Stands in for what does not vary, so that it is read like what does. */
  ones: Float64Array;
}

/** Room for the results of so many draws, which may be filled again and again. */
export function estimateRoom(drawCount: number): EstimateDraws {
  const column = () => new Float64Array(drawCount);
  return {
    goldPayableOzt: column(),
    silverPayableOzt: column(),
    paymentValue: column(),
    netValue: column(),
    refusedFrac: 0,
  };
}

/** Not a number where a parcel does not state it, as for a single parcel. */
const MISSING: Column = { scale: Number.NaN, values: null };

export const assayOf = ({ assays }: ParcelDraws, element: string): Column => assays[element] ?? MISSING;
export const priceOf = ({ prices }: ParcelDraws, metal: string): Column => prices[metal] ?? MISSING;

const valueAt = ({ scale, values }: Column, n: number): number =>
  values === null ? scale : scale * values[n]!;

/** The parcel of one draw after another, in one object that is filled anew. */
export function parcelOfDraws(draws: ParcelDraws): { parcel: EstimateParcel; at: (n: number) => void } {
  const parcel: EstimateParcel = { wetMassKg: 0, dryMassKg: 0, assays: {}, prices: {} };
  const assays = Object.entries(draws.assays);
  const prices = Object.entries(draws.prices);
  return {
    parcel,
    at: (n) => {
      parcel.wetMassKg = valueAt(draws.wetMassKg, n);
      parcel.dryMassKg = valueAt(draws.dryMassKg, n);
      for (const [element, column] of assays) parcel.assays[element] = valueAt(column, n);
      for (const [metal, column] of prices) parcel.prices[metal] = valueAt(column, n);
    },
  };
}
