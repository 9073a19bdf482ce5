import type { LotDraws, Metal } from '../evidence/lot-evidence.ts';
import type { Finding } from '../finding.ts';
import type { UncertainNumber } from '../random.ts';
import type { EstimateParcel, ParcelEstimate } from '../terms/estimate.ts';
import type { EstimateDraws, ParcelDraws } from '../terms/draw-columns.ts';

export type { EstimateParcel, ParcelEstimate } from '../terms/estimate.ts';

/** A number taken as known, or its lowest, most likely and highest value. */
export type Amount = number | UncertainNumber;

/** A buyer's terms at work: what they would pay for a parcel, in the currency of the decision. */
export interface Estimate {
  (parcel: EstimateParcel): ParcelEstimate;
  /** The same for all draws at once, where the terms know how. */
  draws?: (parcel: ParcelDraws, into?: EstimateDraws) => EstimateDraws;
}

/** A cost of the whole lot that does not depend on its metal, for example an assay or a shipment. */
export interface FixedCost {
  label: string;
  amount: number;
}

/** Work the lot up by a treatment and sell the doré. Money in the currency of the decision. */
export interface InHouseOption {
  kind: 'in-house';
  id: string;
  name: string;
  treatmentId: string;
  estimate: Estimate;
  /** Gold and silver together in the bar, as a fraction. */
  doreFinenessFrac: number;
  /** Other elements of the bar that the terms penalize, as mass fractions. */
  otherAssays?: Record<string, number>;
  chargeSizeKg: number;
  reagentCostPerKg: Amount;
  lead: {
    /** Lead put in, collector and the lead of litharge, kg per kg of concentrate. */
    inKgPerKg: Amount;
    /** Of that, what comes back to be used again. */
    returnFrac: Amount;
    buyPricePerKg: number;
    recoveredValuePerKg: number;
  };
  /** Crucible and cupels used up by one charge. */
  crucibleCostPerCharge: number;
  furnaceHoursPerCharge: Amount;
  labourHoursPerCharge: Amount;
  fuelCostPerFurnaceHour: number;
  wagePerHour: number;
  wasteCostPerKg: number;
  fixedCosts: FixedCost[];
  /** Days until the price is fixed. */
  horizonDays: number;
  daysUntilCash: number;
}

/** Sell the concentrate as it is. */
export interface SaleOption {
  kind: 'sale';
  id: string;
  name: string;
  estimate: Estimate;
  /** Water in the wet concentrate, as a fraction of the wet mass. */
  moistureFrac: number;
  /** Other elements that the terms pay for or penalize, as mass fractions. */
  otherAssays?: Record<string, number>;
  /** Relative standard deviation of the buyer's assay around the true grade. */
  buyerAssayRelativeSd: number;
  freightCostPerWetTonne: number;
  fixedCosts: FixedCost[];
  horizonDays: number;
  daysUntilCash: number;
}

export type DecisionOption = InHouseOption | SaleOption;

export interface MetalPrice {
  /** Today's price, in the currency and per the unit of mass of the buyers' terms. */
  spot: number;
  /** That unit in words; left out: troy ounce. */
  perUnit?: string;
  /** Standard deviation of the yearly change of ln price. */
  annualVolatilityFrac: number;
}

export interface DecisionPrices extends Record<Metal, MetalPrice> {
  /** Prices taken as fixed, by the symbol the terms use. */
  others?: Record<string, number>;
  /** Correlation of the changes of gold and silver; left out: 0.7 (they commonly move together; from memory). */
  goldSilverCorrelation?: number;
}

/** Units in which the owner has masses of lots, masses of metal and grades said. */
export interface SaidUnits {
  massUnit: 'kg' | 'lb';
  metalUnit: 'g' | 'ozt';
  gradeUnit: 'g/t' | 'oz/short ton';
}

export interface DecideInput {
  lotDryMassKg: number;
  draws: LotDraws;
  options: DecisionOption[];
  prices: DecisionPrices;
  currency: string;
  seed: number;
  /** What is decided about, as sentences name it; left out: "this lot". */
  subject?: string;
  /** Left out: kg, ozt and g/t. */
  units?: SaidUnits;
}

/** Which options can be worked out, and what is wrong with the others. */
export function usableOptions(input: DecideInput): { options: DecisionOption[]; findings: Finding[] } {
  const findings: Finding[] = [];
  const options = input.options.filter((option, i) => {
    const faults = optionFaults(option, input.draws);
    for (const [field, sentence] of faults) {
      findings.push({
        code: 'option-not-usable',
        level: 'blocker',
        path: `/options/${i}/${field}`,
        sentence: `“${option.name}” is left out: ${sentence}.`,
      });
    }
    return faults.length === 0;
  });
  if (!(input.lotDryMassKg > 0) || !Number.isFinite(input.lotDryMassKg)) {
    findings.push({
      code: 'lot-mass-missing',
      level: 'blocker',
      path: '/lotDryMassKg',
      sentence: `The dry mass of the lot is ${input.lotDryMassKg} kg: it must be above zero.`,
    });
    return { options: [], findings };
  }
  return { options, findings };
}

function optionFaults(option: DecisionOption, draws: LotDraws): [field: string, sentence: string][] {
  const faults: [string, string][] = [];
  const amount = (field: string, value: Amount, highest = Infinity) => {
    const { low, mode, high } = typeof value === 'number' ? { low: value, mode: value, high: value } : value;
    if (low >= 0 && low <= mode && mode <= high && high <= highest && Number.isFinite(high)) return;
    const limit = highest === Infinity ? 'zero or more' : `between 0 and ${highest}`;
    faults.push([field, `${field} must be ${limit}, lowest ≤ most likely ≤ highest`]);
  };
  amount('horizonDays', option.horizonDays);
  amount('daysUntilCash', option.daysUntilCash);
  for (const [i, cost] of option.fixedCosts.entries()) {
    if (!Number.isFinite(cost.amount)) faults.push([`fixedCosts/${i}`, `“${cost.label}” needs an amount`]);
  }
  if (option.kind === 'sale') {
    amount('moistureFrac', option.moistureFrac, 0.99);
    amount('buyerAssayRelativeSd', option.buyerAssayRelativeSd, 1);
    amount('freightCostPerWetTonne', option.freightCostPerWetTonne);
    return faults;
  }
  if (draws.recoveryFrac[option.treatmentId] === undefined) {
    faults.push(['treatmentId', 'nothing is known of the recovery of its treatment']);
  }
  amount('doreFinenessFrac', option.doreFinenessFrac, 1);
  if (option.doreFinenessFrac === 0)
    faults.push(['doreFinenessFrac', 'the fineness of its bar must be above zero']);
  amount('chargeSizeKg', option.chargeSizeKg);
  if (option.chargeSizeKg === 0) faults.push(['chargeSizeKg', 'the size of its charge must be above zero']);
  amount('reagentCostPerKg', option.reagentCostPerKg);
  amount('lead/inKgPerKg', option.lead.inKgPerKg);
  amount('lead/returnFrac', option.lead.returnFrac, 1);
  amount('lead/buyPricePerKg', option.lead.buyPricePerKg);
  amount('lead/recoveredValuePerKg', option.lead.recoveredValuePerKg);
  amount('crucibleCostPerCharge', option.crucibleCostPerCharge);
  amount('furnaceHoursPerCharge', option.furnaceHoursPerCharge);
  amount('labourHoursPerCharge', option.labourHoursPerCharge);
  amount('fuelCostPerFurnaceHour', option.fuelCostPerFurnaceHour);
  amount('wagePerHour', option.wagePerHour);
  amount('wasteCostPerKg', option.wasteCostPerKg);
  return faults;
}
