import type { Metal } from '../evidence/lot-evidence.ts';
import { createRandom, triangularQuantile } from '../random.ts';
import type {
  Amount,
  DecideInput,
  DecisionOption,
  EstimateParcel,
  InHouseOption,
  SaleOption,
} from './options.ts';
import { drawPrices } from './price-draws.ts';

/** What one option brings, draw by draw; draw n of every option rests on the same lot and the same prices. */
export interface OptionDraws {
  option: DecisionOption;
  netValue: Float64Array;
  goldPayableOzt: Float64Array;
  silverPayableOzt: Float64Array;
  /** Means over the draws; they sum to the mean net value. Costs are negative. */
  breakdown: { label: string; amount: number }[];
  meanLabourHours: number;
  /** Mean of what must be paid before the buyer pays. */
  meanCashUpFront: number;
}

/** Draws of an amount; those of one treatment are the same whichever buyer takes its bar. */
function drawAmount(amount: Amount, stream: string, drawCount: number, seed: number): Float64Array {
  const draws = new Float64Array(drawCount);
  if (typeof amount === 'number') return draws.fill(amount);
  if (amount.low === amount.high) return draws.fill(amount.mode);
  const random = createRandom(seed, stream);
  for (let n = 0; n < drawCount; n++) draws[n] = triangularQuantile(amount, random.uniform());
  return draws;
}

/** Whole charges that take a lot; a remainder is a charge too. */
export function chargeCount(lotDryMassKg: number, chargeSizeKg: number): number {
  return Math.ceil(lotDryMassKg / chargeSizeKg - 1e-9);
}

const mean = (values: Float64Array) => {
  let sum = 0;
  for (let n = 0; n < values.length; n++) sum += values[n]!;
  return sum / values.length;
};

function newParcel(input: DecideInput, option: DecisionOption): EstimateParcel {
  return {
    wetMassKg: input.lotDryMassKg,
    dryMassKg: input.lotDryMassKg,
    assays: { ...(option.kind === 'sale' ? option.otherAssays : {}), Au: 0, Ag: 0 },
    prices: { ...input.prices.others, Au: 0, Ag: 0 },
  };
}

/** Sums kept while an option is worked out draw by draw. */
interface Payments {
  netValue: Float64Array;
  goldPayableOzt: Float64Array;
  silverPayableOzt: Float64Array;
  meanPayment: number;
  meanCharges: number;
}

/** Runs the buyer's terms over all draws; `fill` puts the masses and assays of draw n into the parcel. */
function pay(
  input: DecideInput,
  option: DecisionOption,
  prices: Record<Metal, Float64Array>,
  fill: (parcel: EstimateParcel, n: number) => void,
): Payments {
  const { drawCount } = input.draws;
  const netValue = new Float64Array(drawCount);
  const goldPayableOzt = new Float64Array(drawCount);
  const silverPayableOzt = new Float64Array(drawCount);
  const parcel = newParcel(input, option);
  let payment = 0;
  let net = 0;
  for (let n = 0; n < drawCount; n++) {
    parcel.prices.Au = prices.Au[n]!;
    parcel.prices.Ag = prices.Ag[n]!;
    fill(parcel, n);
    const estimate = option.estimate(parcel);
    netValue[n] = estimate.netValue;
    goldPayableOzt[n] = estimate.goldPayableOzt;
    silverPayableOzt[n] = estimate.silverPayableOzt;
    payment += estimate.paymentValue;
    net += estimate.netValue;
  }
  return {
    netValue,
    goldPayableOzt,
    silverPayableOzt,
    meanPayment: payment / drawCount,
    meanCharges: (net - payment) / drawCount,
  };
}

function simulateInHouse(
  input: DecideInput,
  option: InHouseOption,
  prices: Record<Metal, Float64Array>,
): OptionDraws {
  const { draws, lotDryMassKg, seed } = input;
  const { drawCount, gradeGpt } = draws;
  const recoveryFrac = draws.recoveryFrac[option.treatmentId]!;
  const paid = pay(input, option, prices, (parcel, n) => {
    const goldG = (lotDryMassKg / 1000) * gradeGpt.Au[n]! * recoveryFrac.Au[n]!;
    const silverG = (lotDryMassKg / 1000) * gradeGpt.Ag[n]! * recoveryFrac.Ag[n]!;
    const barKg = (goldG + silverG) / option.doreFinenessFrac / 1000;
    parcel.wetMassKg = barKg;
    parcel.dryMassKg = barKg;
    parcel.assays.Au = barKg > 0 ? (1000 * goldG) / barKg : 0;
    parcel.assays.Ag = barKg > 0 ? (1000 * silverG) / barKg : 0;
  });
  const charges = chargeCount(lotDryMassKg, option.chargeSizeKg);
  const drawn = (amount: Amount, field: string) =>
    drawAmount(amount, `${option.treatmentId}/${field}`, drawCount, seed);
  const reagentCostPerKg = drawn(option.reagentCostPerKg, 'reagents');
  const leadInKgPerKg = drawn(option.lead.inKgPerKg, 'lead-in');
  const leadReturnFrac = drawn(option.lead.returnFrac, 'lead-return');
  const furnaceHours = drawn(option.furnaceHoursPerCharge, 'furnace-hours');
  const labourHours = drawn(option.labourHoursPerCharge, 'labour-hours');
  const fixed =
    charges * option.crucibleCostPerCharge +
    lotDryMassKg * option.wasteCostPerKg +
    option.fixedCosts.reduce((sum, { amount }) => sum + amount, 0);
  const fuelPerHour = charges * option.fuelCostPerFurnaceHour;
  const wagePerHour = charges * option.wagePerHour;
  const { buyPricePerKg, recoveredValuePerKg } = option.lead;
  let leadRecovered = 0;
  for (let n = 0; n < drawCount; n++) {
    const leadValue = leadInKgPerKg[n]! * leadReturnFrac[n]! * recoveredValuePerKg;
    leadRecovered += leadValue;
    paid.netValue[n]! +=
      lotDryMassKg * (leadValue - leadInKgPerKg[n]! * buyPricePerKg - reagentCostPerKg[n]!) -
      furnaceHours[n]! * fuelPerHour -
      labourHours[n]! * wagePerHour -
      fixed;
  }
  const costs = [
    { label: 'Reagents', amount: -lotDryMassKg * mean(reagentCostPerKg) },
    { label: 'Lead bought', amount: -lotDryMassKg * mean(leadInKgPerKg) * buyPricePerKg },
    { label: 'Crucibles and cupels', amount: -charges * option.crucibleCostPerCharge },
    { label: 'Fuel', amount: -mean(furnaceHours) * fuelPerHour },
    { label: 'Labour', amount: -mean(labourHours) * wagePerHour },
    { label: 'Waste disposal', amount: -lotDryMassKg * option.wasteCostPerKg },
    ...option.fixedCosts.map(({ label, amount }) => ({ label, amount: -amount })),
  ];
  return {
    option,
    netValue: paid.netValue,
    goldPayableOzt: paid.goldPayableOzt,
    silverPayableOzt: paid.silverPayableOzt,
    breakdown: [
      { label: 'Payment for metal', amount: paid.meanPayment },
      { label: "Buyer's charges", amount: paid.meanCharges },
      ...costs,
      { label: 'Lead recovered', amount: (lotDryMassKg * leadRecovered) / drawCount },
    ],
    meanLabourHours: charges * mean(labourHours),
    meanCashUpFront: -costs.reduce((sum, { amount }) => sum + amount, 0),
  };
}

function simulateSale(
  input: DecideInput,
  option: SaleOption,
  prices: Record<Metal, Float64Array>,
): OptionDraws {
  const { draws, lotDryMassKg, seed } = input;
  const wetMassKg = lotDryMassKg / (1 - option.moistureFrac);
  const sd = option.buyerAssayRelativeSd;
  const gold = createRandom(seed, `${option.id}/buyer-assay/Au`);
  const silver = createRandom(seed, `${option.id}/buyer-assay/Ag`);
  const paid = pay(input, option, prices, (parcel, n) => {
    parcel.wetMassKg = wetMassKg;
    parcel.assays.Au = draws.gradeGpt.Au[n]! * (sd > 0 ? Math.exp(sd * gold.normal() - 0.5 * sd * sd) : 1);
    parcel.assays.Ag = draws.gradeGpt.Ag[n]! * (sd > 0 ? Math.exp(sd * silver.normal() - 0.5 * sd * sd) : 1);
  });
  const costs = [
    { label: 'Freight', amount: (-wetMassKg / 1000) * option.freightCostPerWetTonne },
    ...option.fixedCosts.map(({ label, amount }) => ({ label, amount: -amount })),
  ];
  const cost = costs.reduce((sum, { amount }) => sum + amount, 0);
  for (let n = 0; n < draws.drawCount; n++) paid.netValue[n]! += cost;
  return {
    option,
    netValue: paid.netValue,
    goldPayableOzt: paid.goldPayableOzt,
    silverPayableOzt: paid.silverPayableOzt,
    breakdown: [
      { label: 'Payment for metal', amount: paid.meanPayment },
      { label: "Buyer's charges", amount: paid.meanCharges },
      ...costs,
    ],
    meanLabourHours: 0,
    meanCashUpFront: -cost,
  };
}

/**
 * Net value of each option, draw by draw:
 *
 * in-house: payment for the bar − buyer's charges − reagents − lead bought + lead
 * recovered − fuel − crucibles − labour − waste − fixed costs, the bar holding
 * lot × grade × recovery of each metal at the doré's fineness, in whole charges;
 * sale: payment on the buyer's assay (true grade, lognormal around it) − his charges − freight − fixed costs.
 *
 * The same lot and price draws serve every option (common random numbers), and
 * every other uncertain input has its own stream, so that an option's draws do
 * not depend on which others are compared.
 */
export function simulate(input: DecideInput, options: DecisionOption[]): OptionDraws[] {
  const pricesAt = new Map<number, Record<Metal, Float64Array>>();
  return options.map((option) => {
    const day = Math.round(option.horizonDays);
    const prices = pricesAt.get(day) ?? drawPrices(input.prices, day, input.draws.drawCount, input.seed);
    pricesAt.set(day, prices);
    return option.kind === 'sale'
      ? simulateSale(input, option, prices)
      : simulateInHouse(input, option, prices);
  });
}
