import type { Metal } from '../evidence/lot-evidence.ts';
import type { DecideInput, DecisionOption, EstimateParcel } from './options.ts';
import type { SharedDraws } from './shared-draws.ts';

/** What the buyer pays for one option, draw by draw. */
export interface PaymentDraws {
  /** After the buyer's charges. */
  netPayment: Float64Array;
  goldPayableOzt: Float64Array;
  silverPayableOzt: Float64Array;
  meanPayment: number;
  /** Negative. */
  meanCharges: number;
  /** Share of draws in which the buyer may refuse the parcel. */
  refusedFrac: number;
}

/** Factors of the buyer's assay around the true grade of the concentrate. */
export function buyerAssayFactors(
  option: Extract<DecisionOption, { kind: 'sale' }>,
  shared: SharedDraws,
): Record<Metal, Float64Array> {
  const factor = (metal: Metal) =>
    shared.factor(option.buyerAssayRelativeSd, `${option.id}/buyer-assay/${metal}`);
  return { Au: factor('Au'), Ag: factor('Ag') };
}

/** Sets the masses and assays of draw n: the concentrate on the buyer's assay, or the bar that the treatment gives. */
function parcelFiller(
  { draws, lotDryMassKg }: DecideInput,
  option: DecisionOption,
  shared: SharedDraws,
): (parcel: EstimateParcel, n: number) => void {
  const grade = draws.gradeGpt;
  if (option.kind === 'sale') {
    const assayed = buyerAssayFactors(option, shared);
    return ({ assays }, n) => {
      assays.Au = grade.Au[n]! * assayed.Au[n]!;
      assays.Ag = grade.Ag[n]! * assayed.Ag[n]!;
    };
  }
  const recovery = draws.recoveryFrac[option.treatmentId]!;
  const gramsPerGpt = lotDryMassKg / 1000;
  const finenessGpt = 1e6 * option.doreFinenessFrac;
  return (parcel, n) => {
    const goldG = gramsPerGpt * grade.Au[n]! * recovery.Au[n]!;
    const silverG = gramsPerGpt * grade.Ag[n]! * recovery.Ag[n]!;
    const preciousG = goldG + silverG;
    const barKg = (1000 * preciousG) / finenessGpt;
    parcel.wetMassKg = barKg;
    parcel.dryMassKg = barKg;
    parcel.assays.Au = preciousG > 0 ? (finenessGpt * goldG) / preciousG : 0;
    parcel.assays.Ag = preciousG > 0 ? (finenessGpt * silverG) / preciousG : 0;
  };
}

/** Runs the buyer's terms over all draws, with one parcel object that is filled anew for each. */
export function drawPayment(input: DecideInput, option: DecisionOption, shared: SharedDraws): PaymentDraws {
  const { lotDryMassKg, prices } = input;
  const { drawCount } = input.draws;
  const factors = shared.priceFactors(option.horizonDays);
  const fill = parcelFiller(input, option, shared);
  const parcel: EstimateParcel = {
    wetMassKg: option.kind === 'sale' ? lotDryMassKg / (1 - option.moistureFrac) : lotDryMassKg,
    dryMassKg: lotDryMassKg,
    assays: { ...option.otherAssays, Au: 0, Ag: 0 },
    prices: { ...prices.others, Au: 0, Ag: 0 },
  };
  const netPayment = new Float64Array(drawCount);
  const goldPayableOzt = new Float64Array(drawCount);
  const silverPayableOzt = new Float64Array(drawCount);
  let payment = 0;
  let net = 0;
  let refused = 0;
  for (let n = 0; n < drawCount; n++) {
    parcel.prices.Au = prices.Au.spot * factors.Au[n]!;
    parcel.prices.Ag = prices.Ag.spot * factors.Ag[n]!;
    fill(parcel, n);
    const estimate = option.estimate(parcel);
    netPayment[n] = estimate.netValue;
    goldPayableOzt[n] = estimate.goldPayableOzt;
    silverPayableOzt[n] = estimate.silverPayableOzt;
    payment += estimate.paymentValue;
    net += estimate.netValue;
    if (estimate.refused) refused++;
  }
  return {
    netPayment,
    goldPayableOzt,
    silverPayableOzt,
    meanPayment: payment / drawCount,
    meanCharges: (net - payment) / drawCount,
    refusedFrac: refused / drawCount,
  };
}
