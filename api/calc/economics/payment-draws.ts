import type { Metal } from '../evidence/lot-evidence.ts';
import type { Summary } from '../evidence/summary.ts';
import { summarize } from '../evidence/summary.ts';
import { meanOfDraws } from '../statistics/draws.ts';
import type { Column, EstimateDraws, ParcelDraws } from '../terms/draw-columns.ts';
import { parcelOfDraws } from '../terms/draw-columns.ts';
import type { DecideInput, DecisionOption, Estimate, InHouseOption, SaleOption } from './options.ts';
import type { SharedDraws } from './shared-draws.ts';

/** What the buyer pays for one option. */
export interface PaymentDraws {
  /** After the buyer's charges, draw by draw. */
  netPayment: Float64Array;
  goldPayableOzt: Summary;
  silverPayableOzt: Summary;
  meanPayment: number;
  /** Negative. */
  meanCharges: number;
  /** Share of draws in which the buyer may refuse the parcel. */
  refusedFrac: number;
}

const same = (scale: number): Column => ({ scale, values: null });
const varying = (values: Float64Array, scale = 1): Column => ({ scale, values });
const sameOf = (figures: Record<string, number> = {}): Record<string, Column> =>
  Object.fromEntries(Object.entries(figures).map(([name, figure]) => [name, same(figure)]));

/** Factors of the buyer's assay around the true grade of the concentrate. */
export function buyerAssayFactors(option: SaleOption, shared: SharedDraws): Record<Metal, Float64Array> {
  const factor = (metal: Metal) =>
    shared.factor(option.buyerAssayRelativeSd, `${option.id}/buyer-assay/${metal}`);
  return { Au: factor('Au'), Ag: factor('Ag') };
}

function product(a: Float64Array, b: Float64Array, to: Float64Array): void {
  for (let n = 0; n < to.length; n++) to[n] = a[n]! * b[n]!;
}

/** The concentrate on the buyer's assay. */
function concentrateDraws(
  { draws, lotDryMassKg }: DecideInput,
  option: SaleOption,
  shared: SharedDraws,
): Omit<ParcelDraws, 'prices'> {
  const { Au, Ag } = draws.gradeGpt;
  const assayed = buyerAssayFactors(option, shared);
  const from = [Au, Ag, assayed.Au, assayed.Ag];
  const [gold, silver] = shared.derived('assayed', option.id, from, 2, ([goldGpt, silverGpt]) => {
    product(Au, assayed.Au, goldGpt!);
    product(Ag, assayed.Ag, silverGpt!);
  });
  return {
    drawCount: shared.drawCount,
    wetMassKg: same(lotDryMassKg / (1 - option.moistureFrac)),
    dryMassKg: same(lotDryMassKg),
    assays: { ...sameOf(option.otherAssays), Au: varying(gold!), Ag: varying(silver!) },
  };
}

/** Mass of the bar for each kilogram of the lot, and its gold and silver in g/t. */
function fillBar(
  grade: Record<Metal, Float64Array>,
  recovery: Record<Metal, Float64Array>,
  finenessGpt: number,
  [perKg, goldGpt, silverGpt]: [Float64Array, Float64Array, Float64Array],
): void {
  const [gradeAu, gradeAg, recoveredAu, recoveredAg] = [grade.Au, grade.Ag, recovery.Au, recovery.Ag];
  const perGpt = 1 / finenessGpt;
  for (let n = 0; n < perKg.length; n++) {
    const goldG = gradeAu[n]! * recoveredAu[n]!;
    const preciousG = goldG + gradeAg[n]! * recoveredAg[n]!;
    const goldFineness = preciousG > 0 ? (finenessGpt * goldG) / preciousG : 0;
    perKg[n] = preciousG * perGpt;
    goldGpt[n] = goldFineness;
    silverGpt[n] = preciousG > 0 ? finenessGpt - goldFineness : 0;
  }
}

/** The bar that a treatment gives: its mass for each kilogram of the lot, and its gold and silver in g/t. */
function barDraws(
  { draws, lotDryMassKg }: DecideInput,
  option: InHouseOption,
  shared: SharedDraws,
): Omit<ParcelDraws, 'prices'> {
  const { Au, Ag } = draws.gradeGpt;
  const recovery = draws.recoveryFrac[option.treatmentId]!;
  const finenessGpt = 1e6 * option.doreFinenessFrac;
  const from = [Au, Ag, recovery.Au, recovery.Ag, finenessGpt];
  const [barPerKg, gold, silver] = shared.derived('bar', option.treatmentId, from, 3, (columns) =>
    fillBar({ Au, Ag }, recovery, finenessGpt, columns as [Float64Array, Float64Array, Float64Array]),
  );
  const barKg = varying(barPerKg!, lotDryMassKg);
  return {
    drawCount: shared.drawCount,
    wetMassKg: barKg,
    dryMassKg: barKg,
    assays: { ...sameOf(option.otherAssays), Au: varying(gold!), Ag: varying(silver!) },
  };
}

function parcelDraws(input: DecideInput, option: DecisionOption, shared: SharedDraws): ParcelDraws {
  const { prices } = input;
  const factors = shared.priceFactors(option.horizonDays);
  const parcel =
    option.kind === 'sale' ? concentrateDraws(input, option, shared) : barDraws(input, option, shared);
  return {
    ...parcel,
    prices: {
      ...sameOf(prices.others),
      Au: varying(factors.Au, prices.Au.spot),
      Ag: varying(factors.Ag, prices.Ag.spot),
    },
  };
}

/** Runs terms that know one parcel at a time over all draws, with one parcel that is filled anew for each. */
function oneByOne(estimate: Estimate, draws: ParcelDraws, into: EstimateDraws): EstimateDraws {
  const { parcel, at } = parcelOfDraws(draws);
  let refused = 0;
  for (let n = 0; n < draws.drawCount; n++) {
    at(n);
    const one = estimate(parcel);
    into.netValue[n] = one.netValue;
    into.goldPayableOzt[n] = one.goldPayableOzt;
    into.silverPayableOzt[n] = one.silverPayableOzt;
    into.paymentValue[n] = one.paymentValue;
    if (one.refused) refused++;
  }
  into.refusedFrac = refused / draws.drawCount;
  return into;
}

function runTerms(
  input: DecideInput,
  option: DecisionOption,
  shared: SharedDraws,
  into: EstimateDraws,
): EstimateDraws {
  const draws = parcelDraws(input, option, shared);
  const { estimate } = option;
  return estimate.draws === undefined ? oneByOne(estimate, draws, into) : estimate.draws(draws, into);
}

/** Runs the buyer's terms over all draws. */
export function drawPayment(input: DecideInput, option: DecisionOption, shared: SharedDraws): PaymentDraws {
  const netPayment = new Float64Array(shared.drawCount);
  const drawn = runTerms(input, option, shared, { ...shared.room(), netValue: netPayment });
  const meanPayment = meanOfDraws(drawn.paymentValue);
  return {
    netPayment,
    goldPayableOzt: summarize(drawn.goldPayableOzt),
    silverPayableOzt: summarize(drawn.silverPayableOzt),
    meanPayment,
    meanCharges: meanOfDraws(netPayment) - meanPayment,
    refusedFrac: drawn.refusedFrac,
  };
}

/** Mean of what the buyer pays after his charges. */
export function expectedPayment(input: DecideInput, option: DecisionOption, shared: SharedDraws): number {
  return meanOfDraws(runTerms(input, option, shared, shared.room()).netValue);
}

/** All that a buyer's payments for an option are worked from: where it is the same, so are they. */
export function paymentBasis(input: DecideInput, option: DecisionOption): readonly unknown[] {
  const { gradeGpt, recoveryFrac } = input.draws;
  const { Au, Ag, others } = input.prices;
  const common = [
    option.estimate,
    option.horizonDays,
    option.otherAssays,
    input.lotDryMassKg,
    gradeGpt.Au,
    gradeGpt.Ag,
    Au.spot,
    Ag.spot,
    others,
  ];
  if (option.kind === 'sale') return [...common, option.moistureFrac, option.buyerAssayRelativeSd];
  const recovery = recoveryFrac[option.treatmentId];
  return [...common, option.doreFinenessFrac, recovery?.Au, recovery?.Ag];
}
