import type { Amount, DecideInput, DecisionOption, InHouseOption } from './options.ts';
import type { SharedDraws } from './shared-draws.ts';

/** The owner's own costs of one option. */
export interface CostDraws {
  /** Draw by draw, after what recovered lead is worth; null where nothing about it is uncertain. */
  netCost: Float64Array | null;
  meanNetCost: number;
  /** Means; costs negative. Their sum is −meanNetCost. */
  breakdown: { label: string; amount: number }[];
  meanLabourHours: number;
  /** Mean of what must be paid before the buyer pays. */
  meanCashUpFront: number;
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

/** The uncertain amounts of a treatment; those of one treatment are the same whichever buyer takes its bar. */
export function treatmentAmounts(option: InHouseOption, shared: SharedDraws) {
  const drawn = (amount: Amount, field: string) => shared.amount(amount, `${option.treatmentId}/${field}`);
  return {
    reagentCostPerKg: drawn(option.reagentCostPerKg, 'reagents'),
    leadInKgPerKg: drawn(option.lead.inKgPerKg, 'lead-in'),
    leadReturnFrac: drawn(option.lead.returnFrac, 'lead-return'),
    furnaceHoursPerCharge: drawn(option.furnaceHoursPerCharge, 'furnace-hours'),
    labourHoursPerCharge: drawn(option.labourHoursPerCharge, 'labour-hours'),
  };
}

function drawInHouseCosts(input: DecideInput, option: InHouseOption, shared: SharedDraws): CostDraws {
  const { lotDryMassKg } = input;
  const charges = chargeCount(lotDryMassKg, option.chargeSizeKg);
  const amounts = treatmentAmounts(option, shared);
  const { reagentCostPerKg, leadInKgPerKg, leadReturnFrac, furnaceHoursPerCharge, labourHoursPerCharge } =
    amounts;
  const { buyPricePerKg, recoveredValuePerKg } = option.lead;
  const fuelPerHour = charges * option.fuelCostPerFurnaceHour;
  const wagePerHour = charges * option.wagePerHour;
  const outlays = [
    { label: 'Reagents', amount: -lotDryMassKg * mean(reagentCostPerKg) },
    { label: 'Lead bought', amount: -lotDryMassKg * mean(leadInKgPerKg) * buyPricePerKg },
    { label: 'Crucibles and cupels', amount: -charges * option.crucibleCostPerCharge },
    { label: 'Fuel', amount: -mean(furnaceHoursPerCharge) * fuelPerHour },
    { label: 'Labour', amount: -mean(labourHoursPerCharge) * wagePerHour },
    { label: 'Waste disposal', amount: -lotDryMassKg * option.wasteCostPerKg },
    ...option.fixedCosts.map(({ label, amount }) => ({ label, amount: -amount })),
  ];
  const fixed =
    charges * option.crucibleCostPerCharge +
    lotDryMassKg * option.wasteCostPerKg +
    option.fixedCosts.reduce((sum, { amount }) => sum + amount, 0);
  const netCost = new Float64Array(input.draws.drawCount);
  let leadValue = 0;
  for (let n = 0; n < netCost.length; n++) {
    const leadBack = leadInKgPerKg[n]! * leadReturnFrac[n]! * recoveredValuePerKg;
    leadValue += leadBack;
    netCost[n] =
      lotDryMassKg * (reagentCostPerKg[n]! + leadInKgPerKg[n]! * buyPricePerKg - leadBack) +
      furnaceHoursPerCharge[n]! * fuelPerHour +
      labourHoursPerCharge[n]! * wagePerHour +
      fixed;
  }
  const breakdown = [
    ...outlays,
    { label: 'Lead recovered', amount: (lotDryMassKg * leadValue) / netCost.length },
  ];
  return {
    netCost,
    breakdown,
    meanNetCost: -breakdown.reduce((sum, { amount }) => sum + amount, 0),
    meanLabourHours: charges * mean(labourHoursPerCharge),
    meanCashUpFront: -outlays.reduce((sum, { amount }) => sum + amount, 0),
  };
}

/**
 * In-house: reagents + lead bought − lead recovered + crucibles + fuel + labour +
 * waste + fixed costs, in whole charges. Sale: freight on the wet mass + fixed costs.
 */
export function drawCosts(input: DecideInput, option: DecisionOption, shared: SharedDraws): CostDraws {
  if (option.kind === 'in-house') return drawInHouseCosts(input, option, shared);
  const wetTonnes = input.lotDryMassKg / (1 - option.moistureFrac) / 1000;
  const breakdown = [
    { label: 'Freight', amount: -wetTonnes * option.freightCostPerWetTonne },
    ...option.fixedCosts.map(({ label, amount }) => ({ label, amount: -amount })),
  ];
  const cost = -breakdown.reduce((sum, { amount }) => sum + amount, 0);
  return { netCost: null, breakdown, meanNetCost: cost, meanLabourHours: 0, meanCashUpFront: cost };
}
