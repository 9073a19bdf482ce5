import type { DecideInput, DecisionOption, InHouseOption } from './options.ts';
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

/** The uncertain amounts of a treatment; those of one treatment are the same whichever buyer takes its bar. */
const AMOUNTS = {
  reagentCostPerKg: { stream: 'reagents', of: (option: InHouseOption) => option.reagentCostPerKg },
  leadInKgPerKg: { stream: 'lead-in', of: (option: InHouseOption) => option.lead.inKgPerKg },
  leadReturnFrac: { stream: 'lead-return', of: (option: InHouseOption) => option.lead.returnFrac },
  furnaceHoursPerCharge: {
    stream: 'furnace-hours',
    of: (option: InHouseOption) => option.furnaceHoursPerCharge,
  },
  labourHoursPerCharge: {
    stream: 'labour-hours',
    of: (option: InHouseOption) => option.labourHoursPerCharge,
  },
} as const;
export type AmountField = keyof typeof AMOUNTS;

const streamOf = ({ treatmentId }: InHouseOption, field: AmountField) =>
  `${treatmentId}/${AMOUNTS[field].stream}`;

/** Draws of one uncertain amount of a treatment. */
export function treatmentAmount(
  option: InHouseOption,
  field: AmountField,
  shared: SharedDraws,
): Float64Array {
  return shared.amount(AMOUNTS[field].of(option), streamOf(option, field));
}

const amountMean = (option: InHouseOption, field: AmountField, shared: SharedDraws) =>
  shared.amountMean(AMOUNTS[field].of(option), streamOf(option, field));

/** Mean of lead put in × share that comes back, kg per kg; draw by draw only where both are uncertain. */
function meanLeadBack(option: InHouseOption, shared: SharedDraws): number {
  const { inKgPerKg, returnFrac } = option.lead;
  if (typeof inKgPerKg === 'number' || typeof returnFrac === 'number')
    return amountMean(option, 'leadInKgPerKg', shared) * amountMean(option, 'leadReturnFrac', shared);
  const leadIn = treatmentAmount(option, 'leadInKgPerKg', shared);
  const back = treatmentAmount(option, 'leadReturnFrac', shared);
  let sum = 0;
  for (let n = 0; n < leadIn.length; n++) sum += leadIn[n]! * back[n]!;
  return sum / leadIn.length;
}

/** Means of what an option costs, from the shared draws; costs negative. */
interface ExpectedCosts {
  outlays: { label: string; amount: number }[];
  leadRecovered: { label: string; amount: number }[];
  labourHours: number;
}

function expectedCosts(input: DecideInput, option: DecisionOption, shared: SharedDraws): ExpectedCosts {
  const { lotDryMassKg } = input;
  const own = option.fixedCosts.map(({ label, amount }) => ({ label, amount: -amount }));
  if (option.kind === 'sale') {
    const wetTonnes = lotDryMassKg / (1 - option.moistureFrac) / 1000;
    const freight = { label: 'Freight', amount: -wetTonnes * option.freightCostPerWetTonne };
    return { outlays: [freight, ...own], leadRecovered: [], labourHours: 0 };
  }
  const charges = chargeCount(lotDryMassKg, option.chargeSizeKg);
  const average = (field: AmountField) => amountMean(option, field, shared);
  const labourHours = charges * average('labourHoursPerCharge');
  const furnaceHours = charges * average('furnaceHoursPerCharge');
  const { buyPricePerKg, recoveredValuePerKg } = option.lead;
  return {
    outlays: [
      { label: 'Reagents', amount: -lotDryMassKg * average('reagentCostPerKg') },
      { label: 'Lead bought', amount: -lotDryMassKg * average('leadInKgPerKg') * buyPricePerKg },
      { label: 'Crucibles and cupels', amount: -charges * option.crucibleCostPerCharge },
      { label: 'Fuel', amount: -furnaceHours * option.fuelCostPerFurnaceHour },
      { label: 'Labour', amount: -labourHours * option.wagePerHour },
      { label: 'Waste disposal', amount: -lotDryMassKg * option.wasteCostPerKg },
      ...own,
    ],
    leadRecovered: [
      {
        label: 'Lead recovered',
        amount: lotDryMassKg * meanLeadBack(option, shared) * recoveredValuePerKg,
      },
    ],
    labourHours,
  };
}

const sumOf = (lines: { amount: number }[]) => lines.reduce((sum, { amount }) => sum + amount, 0);

/** Mean of what an option costs its owner, after what recovered lead is worth. */
export function expectedNetCost(input: DecideInput, option: DecisionOption, shared: SharedDraws): number {
  const { outlays, leadRecovered } = expectedCosts(input, option, shared);
  return -sumOf(outlays) - sumOf(leadRecovered);
}

/** Adds factor × an amount of the treatment to every draw of its cost; gives what is the same in every draw. */
function addAmount(
  to: Float64Array,
  option: InHouseOption,
  field: AmountField,
  factor: number,
  shared: SharedDraws,
): number {
  const amount = AMOUNTS[field].of(option);
  if (typeof amount === 'number') return factor * amount;
  const values = treatmentAmount(option, field, shared);
  for (let n = 0; n < to.length; n++) to[n]! += factor * values[n]!;
  return 0;
}

/** Net cost of a treatment draw by draw: the same columns for every buyer of its bar. */
function fillNetCost(
  input: DecideInput,
  option: InHouseOption,
  shared: SharedDraws,
  netCost: Float64Array,
): void {
  netCost.fill(0);
  const { lotDryMassKg } = input;
  const { inKgPerKg, returnFrac, buyPricePerKg, recoveredValuePerKg } = option.lead;
  const charges = chargeCount(lotDryMassKg, option.chargeSizeKg);
  const add = (field: AmountField, factor: number) => addAmount(netCost, option, field, factor, shared);
  let fixed =
    charges * option.crucibleCostPerCharge +
    lotDryMassKg * option.wasteCostPerKg +
    option.fixedCosts.reduce((sum, { amount }) => sum + amount, 0) +
    add('reagentCostPerKg', lotDryMassKg) +
    add('leadInKgPerKg', lotDryMassKg * buyPricePerKg) +
    add('furnaceHoursPerCharge', charges * option.fuelCostPerFurnaceHour) +
    add('labourHoursPerCharge', charges * option.wagePerHour);
  const valueBack = lotDryMassKg * recoveredValuePerKg;
  if (typeof inKgPerKg === 'number') fixed += add('leadReturnFrac', -valueBack * inKgPerKg);
  else if (typeof returnFrac === 'number') fixed += add('leadInKgPerKg', -valueBack * returnFrac);
  else {
    const leadIn = treatmentAmount(option, 'leadInKgPerKg', shared);
    const back = treatmentAmount(option, 'leadReturnFrac', shared);
    for (let n = 0; n < netCost.length; n++) netCost[n]! -= valueBack * leadIn[n]! * back[n]!;
  }
  for (let n = 0; n < netCost.length; n++) netCost[n]! += fixed;
}

/** What decides the costs of a treatment, to tell two options that cost the same. */
function costKey({ lotDryMassKg }: DecideInput, option: InHouseOption): string {
  const { id: _id, name: _name, estimate: _estimate, otherAssays: _assays, ...costs } = option;
  return JSON.stringify([lotDryMassKg, costs]);
}

/**
 * In-house: reagents + lead bought − lead recovered + crucibles + fuel + labour +
 * waste + fixed costs, in whole charges. Sale: freight on the wet mass + fixed costs.
 */
export function drawCosts(input: DecideInput, option: DecisionOption, shared: SharedDraws): CostDraws {
  const { outlays, leadRecovered, labourHours } = expectedCosts(input, option, shared);
  const costs = {
    breakdown: [...outlays, ...leadRecovered],
    meanNetCost: -sumOf(outlays) - sumOf(leadRecovered),
    meanLabourHours: labourHours,
    meanCashUpFront: -sumOf(outlays),
  };
  if (option.kind === 'sale') return { netCost: null, ...costs };
  const [netCost] = shared.derived('cost', costKey(input, option), [], 1, ([column]) =>
    fillNetCost(input, option, shared, column!),
  );
  return { netCost: netCost!, ...costs };
}
